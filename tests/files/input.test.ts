import { execFileSync } from "node:child_process";
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { FileError } from "../../src/files/file-error.ts";
import { type FileSystem, nodeFileSystem } from "../../src/files/file-system.ts";
import { openInput, openInputs, readHandle } from "../../src/files/input.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

async function* noInput(): AsyncGenerator<Uint8Array> {}

function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = freshFolder();
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return folder;
}

async function trouble(given: readonly string[], cwd: string): Promise<string> {
  try {
    await openInputs(given, { stdin: noInput(), cwd });
  } catch (error) {
    if (error instanceof FileError) return `${error.path}: ${error.reason}`;
    throw error;
  }
  return "opened";
}

describe("opening inputs", () => {
  it("takes the tables of a folder in code point order and leaves the rest", async () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "in/deeper.csv"), { recursive: true });
    for (const name of [
      "b.csv",
      "a.xlsx",
      "Z.tsv",
      "é.txt",
      "a.csv.gz",
      ".hidden.csv",
      "~$a.xlsx",
      "notes.md",
      "c.CSV",
    ])
      writeFileSync(join(cwd, "in", name), "x");
    const inputs = await openInputs(["in/"], { stdin: noInput(), cwd });
    expect(inputs.map((input) => input.name)).toEqual([
      "in/Z.tsv",
      "in/a.csv.gz",
      "in/a.xlsx",
      "in/b.csv",
      "in/c.CSV",
      "in/é.txt",
    ]);
  });

  it("keeps names as they were given and reads their bytes, as a whole and in pieces", async () => {
    const cwd = folderWith({ "a b.csv": "x".repeat(600_000) });
    const [input] = await openInputs(["./a b.csv"], { stdin: noInput(), cwd });
    expect(input?.name).toBe("./a b.csv");
    expect((await input?.bytes())?.length).toBe(600_000);
    let length = 0;
    for await (const chunk of input?.chunks() ?? []) length += chunk.length;
    expect(length).toBe(600_000);
  });

  it("understands FILE.xlsx#Sheet, and # in the name of a file that is there", async () => {
    const cwd = folderWith({ "a.xlsx": "x", "b.xlsx#1": "y" });
    const [sheet, plain] = await openInputs(["a.xlsx#June 2", "b.xlsx#1"], { stdin: noInput(), cwd });
    expect([sheet?.name, sheet?.sheet]).toEqual(["a.xlsx", "June 2"]);
    expect([plain?.name, plain?.sheet]).toEqual(["b.xlsx#1", undefined]);
  });

  it("understands * and ? where the shell does not, and a file of that very name first", async () => {
    const cwd = folderWith({
      "a1.csv": "",
      "a2.csv": "",
      "a10.csv": "",
      "b.csv": "",
      ".a3.csv": "",
      "x+y.csv": "",
    });
    mkdirSync(join(cwd, "in"));
    writeFileSync(join(cwd, "in/what?.csv"), "");
    writeFileSync(join(cwd, "in/whats.csv"), "");
    const names = async (words: string[]) =>
      (await openInputs(words, { stdin: noInput(), cwd })).map((input) => input.name);
    expect(await names(["a?.csv", "*0.csv"])).toEqual(["a1.csv", "a2.csv", "a10.csv"]);
    expect(await names(["x+*.csv"])).toEqual(["x+y.csv"]);
    expect(await names(["in/what?.csv"])).toEqual(["in/what?.csv"]);
    expect(await trouble(["zz*.csv"], cwd)).toBe("zz*.csv: no file fits this pattern");
  });

  it("reads standard input once", async () => {
    async function* stdin(): AsyncGenerator<Uint8Array> {
      yield Buffer.from("ab");
      yield Buffer.from("c");
    }
    const input = await openInput("-", { stdin: stdin(), cwd: "/" });
    expect(input.name).toBe("<stdin>");
    expect(Buffer.from(await input.bytes()).toString()).toBe("abc");
    expect(await trouble(["-", "-"], "/")).toBe("<stdin>: standard input can be given once only");
  });

  it("reads a named pipe without losing its writer", async () => {
    const cwd = freshFolder();
    execFileSync("mkfifo", [join(cwd, "pipe")]);
    const opening = openInput("pipe", { stdin: noInput(), cwd });
    const writer = execFileSyncLater(join(cwd, "pipe"));
    const input = await opening;
    expect(Buffer.from(await input.bytes()).toString()).toBe("from the pipe");
    await writer;
  });

  it.each([
    ["a file that is not there", ["none.csv"], "none.csv: no such file or folder"],
    ["a workbook that is not there", ["none.xlsx#Sheet"], "none.xlsx: no such file or folder"],
    ["a folder without tables", ["empty"], "empty: is a directory without a csv, tsv, txt or xlsx file"],
    [
      "a part of the path that is a file",
      ["a.csv/b.csv"],
      "a.csv/b.csv: a part of the path is not a directory",
    ],
    ["links in a circle", ["loop"], "loop: too many symbolic links"],
    ["a name that is too long", ["x".repeat(300)], `${"x".repeat(300)}: the name is too long`],
    ["the second of two", ["a.csv", "none.csv"], "none.csv: no such file or folder"],
  ])("names %s with the reason of the system", async (_, given, told) => {
    const cwd = folderWith({ "a.csv": "x" });
    mkdirSync(join(cwd, "empty"));
    symlinkSync("loop", join(cwd, "loop"));
    expect(await trouble(given, cwd)).toBe(told);
  });

  it("wants one file where one is asked for", async () => {
    const cwd = folderWith({ "a.csv": "x", "b.csv": "y" });
    await expect(openInput(".", { stdin: noInput(), cwd })).rejects.toThrow("is a directory; name one file");
  });

  it("says what the system says when a file cannot be read or breaks off", async () => {
    const cwd = folderWith({ "a.csv": "x" });
    const failing = (method: "checkReadable" | "openToRead", code: string): FileSystem => ({
      ...nodeFileSystem,
      [method]: async () => {
        throw Object.assign(new Error(code), { code });
      },
    });
    const open = (fileSystem: FileSystem) => openInput("a.csv", { stdin: noInput(), cwd, fileSystem });
    await expect(open(failing("checkReadable", "EACCES"))).rejects.toThrow(
      new FileError("a.csv", "permission denied"),
    );
    const input = await open(failing("openToRead", "EIO"));
    await expect(input.bytes()).rejects.toThrow(
      new FileError("a.csv", "the device reports a read or write error"),
    );
  });

  it("does not dress up a bug as a fault of the user's file", async () => {
    const cwd = folderWith({ "a.csv": "x" });
    const fileSystem: FileSystem = {
      ...nodeFileSystem,
      facts: async () => {
        throw new TypeError("a bug");
      },
    };
    await expect(openInput("a.csv", { stdin: noInput(), cwd, fileSystem })).rejects.toThrow(
      new TypeError("a bug"),
    );
  });
});

/** Writes into a pipe from another process, since opening a pipe waits for its other end. */
async function execFileSyncLater(path: string): Promise<void> {
  const { spawn } = await import("node:child_process");
  await new Promise<void>((resolve) => {
    spawn("sh", ["-c", `printf 'from the pipe' > '${path}'`]).on("close", () => resolve());
  });
}

describe("reading an open file", () => {
  /** A file of pieces that writes down what is done with it; `undefined` is a read that fails. */
  function fileOf(pieces: readonly (string | undefined)[], done: string[]) {
    let at = 0;
    return {
      write: () => Promise.reject(new Error("not for writing")),
      sync: () => Promise.resolve(),
      async read(buffer: Uint8Array) {
        const piece = at < pieces.length ? pieces[at++] : "";
        done.push(`read ${piece}`);
        if (piece === undefined) throw Object.assign(new Error("broken"), { code: "EIO" });
        buffer.set(new TextEncoder().encode(piece));
        return piece.length;
      },
      async close() {
        done.push("close");
      },
    };
  }

  async function use(chunks: AsyncIterable<Uint8Array>, done: string[], most = Number.POSITIVE_INFINITY) {
    let used = 0;
    for await (const chunk of chunks) {
      done.push(`use ${Buffer.from(chunk)}`);
      used += 1;
      if (used === most) break;
    }
  }

  it("asks for a piece when the one before was used", async () => {
    const done: string[] = [];
    await use(readHandle("a.csv", fileOf(["a", "b"], done)), done);
    expect(done).toEqual(["read a", "use a", "read b", "use b", "read ", "close"]);
  });

  it("asks for the next piece before it gives one, where it may", async () => {
    const done: string[] = [];
    await use(readHandle("a.csv", fileOf(["a", "b"], done), true), done);
    expect(done).toEqual(["read a", "read b", "use a", "read ", "use b", "close"]);
  });

  it("gives what came before a failure, then tells of it with the name of the file", async () => {
    for (const isAhead of [false, true]) {
      const done: string[] = [];
      const using = use(readHandle("a.csv", fileOf(["a", undefined], done), isAhead), done);
      await expect(using).rejects.toThrow(/^a\.csv: /);
      expect(done).toContain("use a");
      expect(done.at(-1)).toBe("close");
    }
  });

  it("closes the file where nobody wants the rest, even if reading ahead fails", async () => {
    for (const rest of ["b", undefined]) {
      const done: string[] = [];
      await use(readHandle("a.csv", fileOf(["a", rest], done), true), done, 1);
      expect(done).toEqual(["read a", `read ${rest}`, "use a", "close"]);
    }
  });
});
