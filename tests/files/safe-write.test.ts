import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { beforeAll, describe, expect, it } from "vitest";
import { FileError } from "../../src/files/file-error.ts";
import { type FileSystem, nodeFileSystem, type OpenFile } from "../../src/files/file-system.ts";
import { removePendingWrites } from "../../src/files/pending-writes.ts";
import { writeFolderWhole, writeWhole } from "../../src/files/safe-write.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const TEXT = "new\n".repeat(40_000);
const produce = async (sink: { write(text: string): Promise<void> }) => {
  for (let at = 0; at < TEXT.length; at += 1000) await sink.write(TEXT.slice(at, at + 1000));
};
const fill = async (folder: string) => {
  mkdirSync(join(folder, "inner"));
  writeFileSync(join(folder, "a.csv"), "a");
  writeFileSync(join(folder, "inner/b.csv"), "b");
};

/** The file system with every operation counted; the n-th fails. */
function failingAt(n: number, code: string): { fileSystem: FileSystem; operations: () => number } {
  let count = 0;
  const step = () => {
    if (++count === n) throw Object.assign(new Error(code), { code });
  };
  const wrapFile = (file: OpenFile): OpenFile => ({
    async write(bytes) {
      step();
      await file.write(bytes);
    },
    async read(buffer) {
      step();
      return file.read(buffer);
    },
    async sync() {
      step();
      await file.sync();
    },
    async close() {
      await file.close();
      step();
    },
  });
  const counted =
    <Words extends unknown[], Result>(operation: (...words: Words) => Promise<Result>) =>
    async (...words: Words): Promise<Result> => {
      step();
      return operation(...words);
    };
  const fs = nodeFileSystem;
  const fileSystem: FileSystem = {
    facts: counted(fs.facts),
    isTaken: counted(fs.isTaken),
    checkReadable: counted(fs.checkReadable),
    checkCanMakeIn: counted(fs.checkCanMakeIn),
    realPath: counted(fs.realPath),
    list: counted(fs.list),
    openToRead: counted(async (path) => wrapFile(await fs.openToRead(path))),
    openToWrite: counted(async (path) => wrapFile(await fs.openToWrite(path))),
    createFile: counted(async (path, mode) => wrapFile(await fs.createFile(path, mode))),
    createFolder: counted(fs.createFolder),
    changeMode: counted(fs.changeMode),
    rename: counted(fs.rename),
    renameToNew: counted(fs.renameToNew),
    syncFolder: counted(fs.syncFolder),
    removeFile: fs.removeFile,
    removeFolder: fs.removeFolder,
  };
  return { fileSystem, operations: () => count };
}

async function failure(work: Promise<void>): Promise<FileError | undefined> {
  try {
    await work;
    return undefined;
  } catch (error) {
    if (error instanceof FileError) return error;
    throw error;
  }
}

describe("writing a file whole", () => {
  it("writes a new file with the mode of the user's mask", async () => {
    const folder = freshFolder();
    await writeWhole(join(folder, "o.csv"), { force: false }, produce);
    expect(readFileSync(join(folder, "o.csv"), "utf8")).toBe(TEXT);
    expect(statSync(join(folder, "o.csv")).mode & 0o777).toBe(0o666 & ~process.umask());
    expect(readdirSync(folder)).toEqual(["o.csv"]);
  });

  it("leaves an existing file alone, and replaces it when told to, with its mode and through its link", async () => {
    const folder = freshFolder();
    writeFileSync(join(folder, "o.csv"), "old");
    chmodSync(join(folder, "o.csv"), 0o640);
    symlinkSync("o.csv", join(folder, "link.csv"));
    const refused = await failure(
      writeWhole(join(folder, "o.csv"), { force: false, shownAs: "o.csv" }, produce),
    );
    expect([refused?.path, refused?.reason]).toEqual([
      "o.csv",
      "exists already; use --force to overwrite it",
    ]);
    expect(readFileSync(join(folder, "o.csv"), "utf8")).toBe("old");
    await writeWhole(join(folder, "link.csv"), { force: true }, produce);
    expect(readFileSync(join(folder, "o.csv"), "utf8")).toBe(TEXT);
    expect(statSync(join(folder, "o.csv")).mode & 0o777).toBe(0o640);
    expect(readlinkSync(join(folder, "link.csv"))).toBe("o.csv");
    expect(readdirSync(folder).sort()).toEqual(["link.csv", "o.csv"]);
  });

  it("does not write through a link that points nowhere unless told to", async () => {
    const folder = freshFolder();
    symlinkSync("nowhere.csv", join(folder, "link.csv"));
    const refused = await failure(writeWhole(join(folder, "link.csv"), { force: false }, produce));
    expect(refused?.reason).toBe("exists already; use --force to overwrite it");
    expect(existsSync(join(folder, "nowhere.csv"))).toBe(false);
  });

  it("writes a device directly and does not replace it", async () => {
    await writeWhole("/dev/null", { force: false }, produce);
    expect(lstatSync("/dev/null").isCharacterDevice()).toBe(true);
    const full = await failure(writeWhole("/dev/full", { force: false }, produce));
    expect(full?.reason).toBe("no space left on the device");
  });

  it.each([
    ["a folder", "", "is a directory"],
    ["a folder that is not there", "none/o.csv", "no such file or folder"],
  ])("refuses %s before the work is done", async (_, name, reason) => {
    let asked = false;
    const refused = await failure(
      writeWhole(join(freshFolder(), name), { force: true }, async () => {
        asked = true;
      }),
    );
    expect([refused?.reason, asked]).toEqual([reason, false]);
  });

  it("changes nothing when the work fails, and gives the failure on as it is", async () => {
    const folder = freshFolder();
    writeFileSync(join(folder, "o.csv"), "old");
    const work = writeWhole(join(folder, "o.csv"), { force: true }, async (sink) => {
      await sink.write(TEXT);
      throw new TypeError("a bug");
    });
    await expect(work).rejects.toThrow(new TypeError("a bug"));
    expect(readdirSync(folder)).toEqual(["o.csv"]);
    expect(readFileSync(join(folder, "o.csv"), "utf8")).toBe("old");
  });

  it("is not stopped by what a crash left behind", async () => {
    const folder = freshFolder();
    writeFileSync(join(folder, `.o.csv.${process.pid}-1.jartally-tmp`), "left behind");
    await writeWhole(join(folder, "o.csv"), { force: false }, produce);
    expect(readFileSync(join(folder, "o.csv"), "utf8")).toBe(TEXT);
  });

  it.each(["ENOSPC", "EIO", "EACCES"])(
    "leaves the old file when any single operation fails with %s",
    async (code) => {
      for (const hasOld of [false, true]) {
        for (let n = 1; ; n++) {
          const folder = freshFolder();
          const path = join(folder, "o.csv");
          if (hasOld) writeFileSync(path, "old");
          const { fileSystem, operations } = failingAt(n, code);
          const refused = await failure(writeWhole(path, { force: true, fileSystem }, produce));
          const files = readdirSync(folder);
          if (refused === undefined) {
            expect(operations()).toBeLessThan(n);
            expect(n).toBeGreaterThan(8);
            break;
          }
          expect(refused.path).toBe(path);
          // The last operation flushes the folder after the rename: then the new file is there, and whole.
          const text = files.length === 0 ? "" : readFileSync(path, "utf8");
          expect(files.filter((file) => file !== "o.csv")).toEqual([]);
          expect([hasOld ? "old" : "", TEXT]).toContain(text);
        }
      }
    },
  );

  it("never replaces a file that came while it was written, and says so", async () => {
    const folder = freshFolder();
    const path = join(folder, "o.csv");
    const refused = await failure(
      writeWhole(path, { force: false }, async (sink) => {
        await sink.write(TEXT);
        await writeWhole(path, { force: false }, async (other) => other.write("first"));
      }),
    );
    expect(refused?.reason).toBe("exists already; use --force to overwrite it");
    expect(readFileSync(path, "utf8")).toBe("first");
    expect(readdirSync(folder)).toEqual(["o.csv"]);
  });

  it("removes what is being written when the program is interrupted", async () => {
    const folder = freshFolder();
    await failure(
      writeWhole(join(folder, "o.csv"), { force: false }, async (sink) => {
        await sink.write(TEXT);
        expect(readdirSync(folder).length).toBe(1);
        removePendingWrites();
        expect(readdirSync(folder)).toEqual([]);
      }),
    );
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe("writing a folder whole", () => {
  it("appears with all of its files", async () => {
    const folder = freshFolder();
    await writeFolderWhole(join(folder, "run"), fill);
    expect(readdirSync(folder)).toEqual(["run"]);
    expect(readdirSync(join(folder, "run")).sort()).toEqual(["a.csv", "inner"]);
  });

  it.each(["file", "empty folder", "full folder"])("never touches a %s that is there", async (what) => {
    const path = join(freshFolder(), "run");
    if (what === "file") writeFileSync(path, "old");
    else mkdirSync(path);
    if (what === "full folder") writeFileSync(join(path, "old.csv"), "old");
    const refused = await failure(writeFolderWhole(path, fill, { shownAs: "run" }));
    expect([refused?.path, refused?.reason]).toEqual(["run", "exists already; choose another folder"]);
    if (what !== "file") expect(readdirSync(path)).toEqual(what === "full folder" ? ["old.csv"] : []);
  });

  it("leaves nothing when any single operation fails", async () => {
    for (let n = 1; ; n++) {
      const folder = freshFolder();
      const { fileSystem } = failingAt(n, "EIO");
      const refused = await failure(writeFolderWhole(join(folder, "run"), fill, { fileSystem }));
      if (refused === undefined) {
        expect(n).toBeGreaterThan(8);
        break;
      }
      const names = readdirSync(folder);
      expect([[], ["run"]]).toContainEqual(names);
      if (names.length > 0) expect(readdirSync(join(folder, "run")).sort()).toEqual(["a.csv", "inner"]);
    }
  });
});

describe("a process that is killed", () => {
  let script = "";

  beforeAll(async () => {
    script = join(freshFolder(), "write.mjs");
    const entry = `
      import { writeWhole, writeFolderWhole } from "${REPOSITORY}/src/files/safe-write.ts";
      import { writeFileSync } from "node:fs";
      const [what, path, letter] = process.argv.slice(2);
      process.stdout.write("ready\\n");
      if (what === "file") await writeWhole(path, { force: true }, async (sink) => {
        for (let n = 0; n < 400; n++) await sink.write(letter.repeat(50_000));
      });
      else await writeFolderWhole(path, async (folder) => {
        for (let n = 0; n < 20; n++) writeFileSync(folder + "/" + n, letter.repeat(200_000));
      });`;
    await build({
      stdin: { contents: entry, resolveDir: REPOSITORY, loader: "ts" },
      bundle: true,
      platform: "node",
      format: "esm",
      outfile: script,
      logLevel: "error",
    });
  });

  async function killAfter(words: readonly string[], milliseconds: number): Promise<void> {
    const child = spawn(process.execPath, [script, ...words], { stdio: ["ignore", "pipe", "ignore"] });
    await once(child.stdout, "data");
    const timer = setTimeout(() => child.kill("SIGKILL"), milliseconds);
    await once(child, "close");
    clearTimeout(timer);
  }

  it("leaves the old file or the new one, never a part", { timeout: 120_000 }, async () => {
    const folder = freshFolder();
    const path = join(folder, "o.txt");
    writeFileSync(path, "A".repeat(20_000_000));
    let changed = 0;
    for (let round = 0; round < 40; round++) {
      const before = readFileSync(path)[0];
      await killAfter(["file", path, String.fromCharCode(66 + (round % 20))], (round * 7) % 90);
      const after = readFileSync(path);
      expect(after.length).toBe(20_000_000);
      expect(after.every((byte) => byte === after[0])).toBe(true);
      if (after[0] !== before) changed++;
      // What is left behind is known by its name.
      for (const name of readdirSync(folder))
        expect(name === "o.txt" || name.endsWith(".jartally-tmp")).toBe(true);
    }
    expect(changed).toBeLessThan(40);
  });

  it("leaves no folder or a whole one", { timeout: 120_000 }, async () => {
    for (let round = 0; round < 30; round++) {
      const folder = freshFolder();
      await killAfter(["folder", join(folder, "run"), "x"], (round * 3) % 60);
      if (existsSync(join(folder, "run"))) expect(readdirSync(join(folder, "run")).length).toBe(20);
    }
  });

  it("never lets two writers mix", { timeout: 60_000 }, async () => {
    const path = join(freshFolder(), "o.txt");
    await Promise.all(["B", "C", "D", "E"].map((letter) => killAfter(["file", path, letter], 50_000)));
    const after = readFileSync(path);
    expect(after.length).toBe(20_000_000);
    expect(after.every((byte) => byte === after[0])).toBe(true);
  });
});
