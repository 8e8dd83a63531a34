import { isAscii } from "node:buffer";
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { programFiles } from "../../src/start/load-program.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const BUILT = programFiles(join(REPOSITORY, "dist"));
// The build that measures coverage makes no cache.
const withCache = describe.skipIf(!existsSync(BUILT.cache));

/** What may lie in the place of the cache. */
const CHANGES: Readonly<Record<string, (cache: Buffer) => Buffer | undefined>> = {
  "no cache": () => undefined,
  "an empty cache": () => Buffer.alloc(0),
  "a cache that is none": () => Buffer.from("sample_id,taxon,count\n".repeat(1000)),
  "a cache that is cut off": (cache) => cache.subarray(0, cache.length / 2),
  "a cache of another version of V8": (cache) => withByte(cache, 4),
  "a cache of a longer bundle": (cache) => withByte(cache, 8),
  "a cache made with other flags": (cache) => withByte(cache, 12),
};

/** The bytes with one of them changed. */
function withByte(bytes: Buffer, at: number): Buffer {
  const changed = Buffer.from(bytes);
  changed.writeUInt8(changed.readUInt8(at) ^ 1, at);
  return changed;
}

function put(cache: string, content: Buffer | undefined): void {
  rmSync(cache, { force: true });
  if (content !== undefined) writeFileSync(cache, content);
}

/** The package with a built program of its own. */
function copyOfPackage(): string {
  const folder = freshFolder();
  for (const name of ["bin", "dist"]) cpSync(join(REPOSITORY, name), join(folder, name), { recursive: true });
  for (const name of ["demo-data", "reference-tables"])
    symlinkSync(join(REPOSITORY, name), join(folder, name));
  return folder;
}

/** What V8 says of a cache for the bundle, in a process that has not compiled it yet. */
function isRejected(cache: string): unknown {
  const program = `
    const { readFileSync } = require("node:fs");
    const [bundle, cache] = ${JSON.stringify([BUILT.bundle, cache])};
    const options = { filename: bundle, cachedData: readFileSync(cache) };
    const script = new (require("node:vm").Script)(readFileSync(bundle, "latin1"), options);
    console.log(JSON.stringify(script.cachedDataRejected));`;
  return JSON.parse(spawnSync(process.execPath, ["-e", program], { encoding: "utf8" }).stdout);
}

describe("the bundle", () => {
  it("is nothing but ASCII, since it is read a byte a character", () => {
    expect(isAscii(readFileSync(BUILT.bundle))).toBe(true);
  });

  it("still knows the signs that stand beyond ASCII in its patterns", () => {
    const folder = freshFolder();
    writeFileSync(join(folder, "log.csv"), "sample_id,tray,grids_sorted\nA,5×6,3\n");
    writeFileSync(join(folder, "sheet.csv"), "sample_id,taxon,count\nA,Baetidae,–\nA,Heptageniidae,✓\n");
    const run = (...words: string[]) =>
      spawnSync(process.execPath, [join(REPOSITORY, "bin/jartally.js"), ...words], {
        encoding: "utf8",
        cwd: folder,
      });
    expect(run("grids", "log.csv", "--seed", "1").status).toBe(0);
    const { stderr } = run("check", "sheet.csv");
    expect(stderr).toContain('sheet.csv:2:3 error missing-count count "–" stands for a missing value');
    expect(stderr).toContain('sheet.csv:3:3 error bad-count count "✓" says that animals were there');
  });
});

withCache("the cache of the build", () => {
  it("is taken over by a process like that which made it", () => {
    expect(isRejected(BUILT.cache)).toBe(false);
  });

  it("changes nothing but the time, whatever lies in its place and whatever flags V8 has", () => {
    const folder = copyOfPackage();
    const files = programFiles(join(folder, "dist"));
    const run = (flags: readonly string[] = []) => {
      const words = [...flags, join(folder, "bin/jartally.js"), "demo"];
      const { status, stdout, stderr } = spawnSync(process.execPath, words, { encoding: "utf8" });
      return { status, stdout, stderr };
    };
    const expected = run();
    expect([expected.status, expected.stdout.split("\n").length]).toEqual([0, 39]);
    expect(run(["--no-lazy"])).toEqual(expected);
    const cache = readFileSync(BUILT.cache);
    for (const change of Object.values(CHANGES)) {
      put(files.cache, change(cache));
      if (existsSync(files.cache)) expect(isRejected(files.cache)).toBe(true);
      expect(run()).toEqual(expected);
    }
  }, 60_000);
});

describe("a program that is not built", () => {
  it.each(["cli.cjs", "program.cjs"])("is said to be so when %s is missing", (name) => {
    const folder = copyOfPackage();
    rmSync(join(folder, "dist", name));
    const result = spawnSync(process.execPath, [join(folder, "bin/jartally.js"), "demo"], {
      encoding: "utf8",
    });
    expect(result).toMatchObject({
      status: 70,
      stdout: "",
      stderr: "jartally is not built here: run npm ci in its folder.\n",
    });
  });
});

describe("a thread", () => {
  it("runs the same bundle as the main thread", () => {
    const folder = copyOfPackage();
    const words = [
      "demo-data/bench-sheet.csv",
      "--samples",
      "demo-data/sample-log.csv",
      "--resamples",
      "6000",
    ];
    const run = () =>
      spawnSync(
        process.execPath,
        [
          ...[join(folder, "bin/jartally.js"), "score", ...words, "--reference", "vennaloo-demo", "-q"],
          ...["--threads", "2"],
        ],
        { encoding: "utf8", cwd: folder },
      );
    const sound = run();
    expect(sound.stdout.split("\n")).toHaveLength(39);
    rmSync(join(folder, "dist/thread.cjs"));
    expect(run().stdout).toBe(sound.stdout);
    writeFileSync(join(folder, "dist/thread.cjs"), 'throw new Error("started");');
    expect(run().status).toBe(70);
  }, 60_000);
});
