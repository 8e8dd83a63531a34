import { existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { FileSystem, OpenFile } from "../../src/files/file-system.ts";
import { nodeFileSystem } from "../../src/files/file-system.ts";
import { inputFromBytes } from "../../src/files/input.ts";
import { loadBatch } from "../../src/pipeline/load.ts";
import { openRun } from "../../src/pipeline/open-run.ts";
import type { RunContents } from "../../src/pipeline/run-contents.ts";
import { runOfBatch } from "../../src/pipeline/run-of-batch.ts";
import { scoreBatch } from "../../src/pipeline/score-batch.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import { verifyRun } from "../../src/pipeline/verify-run.ts";
import { writeRun } from "../../src/pipeline/write-run.ts";
import { freshFolder } from "../helpers/run-jartally.ts";
import { SMALL_LOG, SMALL_SHEET, smallLab } from "../helpers/small-lab.ts";

let lab = "";
let contents: RunContents;

beforeAll(async () => {
  lab = smallLab();
  const choices = { seed: "1" };
  const loaded = await loadBatch(
    { sheets: [inputFromBytes("sheet.csv", SMALL_SHEET)], sampleLog: inputFromBytes("log.csv", SMALL_LOG) },
    "./small-set",
    lab,
  );
  contents = await runOfBatch(loaded, { reference: "./small-set", cwd: lab, choices, setChoices: {} });
});

/** A disk that is full from the n-th operation on. */
function fullDisk(operations: number): { readonly fileSystem: FileSystem; readonly used: () => number } {
  let used = 0;
  const step = () => {
    used++;
    if (used > operations) throw Object.assign(new Error("ENOSPC"), { code: "ENOSPC" });
  };
  const file = (open: OpenFile): OpenFile => ({
    ...open,
    async write(bytes) {
      step();
      await open.write(bytes);
    },
    async sync() {
      step();
      await open.sync();
    },
  });
  return {
    used: () => used,
    fileSystem: {
      ...nodeFileSystem,
      async createFile(path, mode) {
        step();
        return file(await nodeFileSystem.createFile(path, mode));
      },
      async createFolder(path) {
        step();
        await nodeFileSystem.createFolder(path);
      },
      async rename(from, to) {
        step();
        await nodeFileSystem.rename(from, to);
      },
    },
  };
}

describe("a run folder", () => {
  it("comes whole or not at all, wherever the disk gets full", async () => {
    const all = fullDisk(Number.POSITIVE_INFINITY);
    const place = freshFolder();
    await writeRun({ path: join(place, "run"), shownAs: "run", fileSystem: all.fileSystem }, contents);
    expect(readdirSync(place)).toEqual(["run"]);
    // Every third operation, and the last ones.
    const last = all.used();
    const stops = Array.from({ length: last }, (_, at) => at).filter((at) => at % 3 === 0 || at > last - 4);
    for (const operations of stops) {
      const folder = freshFolder();
      const { fileSystem } = fullDisk(operations);
      const writing = writeRun({ path: join(folder, "run"), shownAs: "run", fileSystem }, contents);
      await expect(writing, String(operations)).rejects.toThrow("run: no space left on the device");
      expect(readdirSync(folder)).toEqual([]);
    }
  }, 120_000);

  it("is never written over another, whatever it holds", async () => {
    const place = freshFolder();
    mkdirSync(join(place, "empty"));
    writeFileSync(join(place, "file"), "mine");
    for (const name of ["empty", "file"]) {
      const writing = writeRun({ path: join(place, name), shownAs: name }, contents);
      await expect(writing).rejects.toThrow(`${name}: exists already`);
    }
    expect(readdirSync(join(place, "empty"))).toEqual([]);
    expect(readdirSync(place).sort()).toEqual(["empty", "file"]);
  });

  it("is one of the two when two runs want the same name, never a mixture", async () => {
    const place = freshFolder();
    const path = join(place, "run");
    const other = { ...contents, choices: { seed: "2" } };
    const results = await Promise.allSettled([
      writeRun({ path, shownAs: "run" }, contents),
      writeRun({ path, shownAs: "run" }, other),
    ]);
    expect(results.map((one) => one.status).sort()).toEqual(["fulfilled", "rejected"]);
    expect((await verifyRun("run", place)).agrees).toBe(true);
    expect(readdirSync(place)).toEqual(["run"]);
  });
});

describe("an opened run", () => {
  it("scores as the files did, and says the same", async () => {
    const batch = await scoreSamples({
      sheets: ["sheet.csv"],
      samples: "log.csv",
      reference: "./small-set",
      cwd: lab,
      run: "opened",
    });
    const fromFiles = [...batch.samples];
    const run = await openRun("opened", lab);
    if (run.batch === undefined) throw new Error("the run has no batch");
    const fromRun = [...scoreBatch(run.batch, run.choices)];
    const byId = (list: typeof fromFiles) =>
      new Map(list.map(({ score, findings }) => [score.sampleId, { score, findings }]));
    expect(byId(fromRun)).toEqual(byId(fromFiles));
    expect(fromRun.map((one) => one.score.sampleId)).toEqual(["S-1", "S-2", "S-3"]);
    expect(run.rows?.log?.samples.get("S-2")?.texts.get("note")).toBe("=1+1");
  });

  it("needs nothing but its own folder: the set may be gone or another", async () => {
    const other = smallLab();
    const request = { sheets: ["sheet.csv"], reference: "./small-set", cwd: other, run: "run" };
    await scoreSamples(request);
    const { rmSync } = await import("node:fs");
    rmSync(join(other, "small-set"), { recursive: true });
    rmSync(join(other, "sheet.csv"));
    expect((await verifyRun("run", other)).agrees).toBe(true);
  });

  it("keeps samples of which no row could be read, refused with the reason", async () => {
    const place = smallLab();
    writeFileSync(join(place, "bad.csv"), "sample_id,taxon,count\nX,Baetis,1.5\nY,Baetis,3\n");
    await scoreSamples({ sheets: ["bad.csv"], reference: "./small-set", cwd: place, run: "run" });
    const run = await openRun("run", place);
    if (run.batch === undefined) throw new Error("the run has no batch");
    const scores = [...scoreBatch(run.batch, run.choices)].map(({ score }) => [
      score.sampleId,
      score.status,
      score.flags,
    ]);
    expect(scores).toEqual([
      ["X", "refused", ["bad-count"]],
      ["Y", "scored", []],
    ]);
    expect(run.readingFindings.map((one) => [one.file, one.line, one.code])).toEqual([
      ["bad.csv", 2, "bad-count"],
    ]);
  });

  it("leaves none where the whole batch is refused", async () => {
    const place = smallLab();
    writeFileSync(join(place, "bad.csv"), "sample_id,taxon,count\n,Baetis,1\n");
    const request = { sheets: ["bad.csv"], reference: "./small-set", cwd: place, run: "run" };
    const batch = await scoreSamples(request);
    expect([batch.isRefused, batch.run, existsSync(join(place, "run"))]).toEqual([true, undefined, false]);
  });
});
