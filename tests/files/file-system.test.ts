import { existsSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import type * as FileFunctions from "node:fs/promises";
import { join } from "node:path";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { nodeFileSystem } from "../../src/files/file-system.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

const links = vi.hoisted(() => ({ code: "" }));
vi.mock("node:fs/promises", async (importOriginal) => {
  const real = await importOriginal<typeof FileFunctions>();
  const link = async (from: string, to: string) => {
    if (links.code !== "") throw Object.assign(new Error(links.code), { code: links.code });
    await real.link(from, to);
  };
  return { ...real, link };
});

describe("a file that gets a new name", () => {
  let folder = "";
  const place = (name: string) => join(folder, name);
  const rename = () => nodeFileSystem.renameToNew(place("a"), place("b"));
  beforeEach(() => {
    links.code = "";
    folder = freshFolder();
    writeFileSync(place("a"), "a");
  });

  it.each(["", "EPERM", "ENOTSUP"])("has it, and the old one no more (links: %s)", async (code) => {
    links.code = code;
    await rename();
    expect([existsSync(place("a")), readFileSync(place("b"), "utf8")]).toEqual([false, "a"]);
  });

  it.each(["", "EPERM"])("takes no name that a file or a link to nothing has (links: %s)", async (code) => {
    links.code = code;
    writeFileSync(place("b"), "b");
    await expect(rename()).rejects.toMatchObject({ code: "EEXIST" });
    expect([readFileSync(place("a"), "utf8"), readFileSync(place("b"), "utf8")]).toEqual(["a", "b"]);
    symlinkSync(place("nothing"), place("c"));
    await expect(nodeFileSystem.renameToNew(place("a"), place("c"))).rejects.toMatchObject({
      code: "EEXIST",
    });
    expect(existsSync(place("nothing"))).toBe(false);
  });

  it("stays as it is where the disk fails", async () => {
    links.code = "EIO";
    await expect(rename()).rejects.toMatchObject({ code: "EIO" });
    expect([readFileSync(place("a"), "utf8"), existsSync(place("b"))]).toEqual(["a", false]);
  });
});
