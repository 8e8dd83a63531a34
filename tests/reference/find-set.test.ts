import { cpSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { FileError } from "../../src/files/file-error.ts";
import { findSetFolder, listSets, UnknownSetError } from "../../src/reference/find-set.ts";
import { freshFolder } from "../helpers/run-jartally.ts";
import { TABLES, writeSet } from "../helpers/sets.ts";

const places = (cwd: string) => ({ packageTables: TABLES, cwd });

describe("finding a set", () => {
  it("looks an id up in the package first, then in reference-tables/sets of the current folder", async () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "reference-tables/sets"), { recursive: true });
    cpSync(writeSet({}), join(cwd, "reference-tables/sets/own-index"), { recursive: true });
    cpSync(writeSet({}), join(cwd, "reference-tables/sets/vennaloo-demo"), { recursive: true });
    expect(await findSetFolder("own-index", places(cwd))).toEqual({
      path: join(cwd, "reference-tables/sets/own-index"),
      shownAs: "reference-tables/sets/own-index",
    });
    expect((await findSetFolder("vennaloo-demo", places(cwd))).path).toBe(join(TABLES, "sets/vennaloo-demo"));
    const ids = (await listSets(places(cwd))).map((one) => one.id);
    expect(ids).toEqual([...ids].sort());
    expect(ids.filter((id) => id === "vennaloo-demo").length).toBe(1);
    expect(ids).toContain("own-index");
  });

  it("takes a path to a set folder, as it was given", async () => {
    const folder = writeSet({});
    expect(await findSetFolder(folder, places("/"))).toEqual({ path: folder, shownAs: folder });
    expect(await findSetFolder("./bare", places(join(folder, "..")))).toEqual({
      path: folder,
      shownAs: "./bare",
    });
    // A folder of the current one, without a slash.
    expect(await findSetFolder("bare", places(join(folder, "..")))).toEqual({
      path: folder,
      shownAs: "bare",
    });
  });

  it.each([
    ["vennalo-demo", 'there is no reference set "vennalo-demo"; did you mean "vennaloo-demo"?'],
    [
      "virginia",
      'there is no reference set "virginia"; did you mean "virginia-family-2003" or "west-virginia-family-2000"?',
    ],
    ["Nothing Like It", 'there is no reference set "Nothing Like It"'],
  ])("%s is no set, and close ids are named", async (id, message) => {
    const error = await findSetFolder(id, places("/")).catch((caught: unknown) => caught);
    expect(error).toBeInstanceOf(UnknownSetError);
    expect(String(error)).toBe(`UnknownSetError: ${message}`);
  });

  it("tells a path that is not there from a folder that is no set", async () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "empty"));
    const failure = async (path: string) => {
      const error = await findSetFolder(path, places(cwd)).catch((caught: unknown) => caught);
      return error instanceof FileError ? `${error.path}: ${error.reason}` : String(error);
    };
    expect(await failure("./empty")).toBe("./empty: is no set folder: it has no set.json");
    expect(await failure("./absent")).toBe("./absent: no such folder");
  });
});
