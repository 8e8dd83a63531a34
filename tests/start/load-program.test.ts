import { isAscii } from "node:buffer";
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { programFiles, programScript, sealed } from "../../src/start/load-program.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const DIGEST_BYTES = 32;
const BUILT = programFiles(join(REPOSITORY, "dist"));
// The build that measures coverage makes no cache.
const withCache = describe.skipIf(!existsSync(BUILT.cache));

/** What may lie in the place of the cache, made of that of the build. */
const CHANGES: Readonly<Record<string, (cache: Buffer) => Buffer | undefined>> = {
  "no cache": () => undefined,
  "an empty cache": () => Buffer.alloc(0),
  "a cache that is none": () => Buffer.from("sample_id,taxon,count\n".repeat(1000)),
  "a cache that is cut off": (cache) => cache.subarray(0, cache.length / 2),
  // V8 does not see this by itself: one in three such bytes ends the process.
  "a cache with a wrong byte": (cache) => withByte(cache, cache.length / 2),
  "a cache with another digest": (cache) => withByte(cache, 0),
};

/** What V8 itself refuses of what it compiled. */
const REFUSED: Readonly<Record<string, (compiled: Buffer) => Buffer>> = {
  "code of another version of V8": (compiled) => withByte(compiled, 4),
  "code of a longer bundle": (compiled) => withByte(compiled, 8),
  "code made with other flags": (compiled) => withByte(compiled, 12),
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

/** What V8 compiled when the program was built: the cache without the digest in front. */
function compiledCode(): Buffer {
  return readFileSync(BUILT.cache).subarray(DIGEST_BYTES);
}

/** What V8 says of code for the bundle, in a process that has not compiled it yet. */
function isRejected(compiled: Buffer): unknown {
  const file = join(freshFolder(), "compiled");
  writeFileSync(file, compiled);
  const program = `
    const { readFileSync } = require("node:fs");
    const [bundle, compiled] = ${JSON.stringify([BUILT.bundle, file])};
    const options = { filename: bundle, cachedData: readFileSync(compiled) };
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
    expect(isRejected(compiledCode())).toBe(false);
    // Undefined where no cache was given to V8.
    expect(programScript(BUILT).cachedDataRejected).toBeTypeOf("boolean");
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
      expect(programScript(files).cachedDataRejected).toBeUndefined();
      expect(run()).toEqual(expected);
    }
    const bundle = readFileSync(files.bundle);
    for (const change of Object.values(REFUSED)) {
      const compiled = change(compiledCode());
      expect(isRejected(compiled)).toBe(true);
      put(files.cache, sealed(bundle, compiled));
      expect(run()).toEqual(expected);
    }
  }, 60_000);

  it("is left alone where it was made of another bundle, however long that is", () => {
    const folder = copyOfPackage();
    const { bundle } = programFiles(join(folder, "dist"));
    writeFileSync(
      bundle,
      readFileSync(bundle, "latin1").replaceAll("stands for a missing", "STANDS for a missing"),
    );
    writeFileSync(join(folder, "sheet.csv"), "sample_id,taxon,count\nA,Baetidae,NA\n");
    const words = [join(folder, "bin/jartally.js"), "check", "sheet.csv"];
    const { stderr } = spawnSync(process.execPath, words, { encoding: "utf8", cwd: folder });
    expect(stderr).toContain('count "NA" STANDS for a missing value');
  });
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
