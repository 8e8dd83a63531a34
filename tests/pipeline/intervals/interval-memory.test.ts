import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../../src/files/input.ts";
import { IntervalMemory } from "../../../src/pipeline/intervals/interval-memory.ts";
import { loadBatch } from "../../../src/pipeline/load.ts";
import { roadsInThreads } from "../../../src/pipeline/roads.ts";
import { runOfBatch } from "../../../src/pipeline/run-of-batch.ts";
import { scoreBatch } from "../../../src/pipeline/score-batch.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import { writeRun } from "../../../src/pipeline/write-run.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import { freshFolder } from "../../helpers/run-jartally.ts";
import { SMALL_LOG, smallLab } from "../../helpers/small-lab.ts";

// Not in the order of their ids, which is that of a run; one that is refused.
const SHEET = `sample_id,taxon,count
D,Baetis,40
D,Leuctra,12
D,Chironomidae,30
A,Baetis,5
A,Chironomidae,60
C,Leuctra,2
B,Baetis,many
`;
const resampling = resamplingPlan({ resamples: 200, supportLimit: 0.99 });
const choices = { seed: "1", resampling };

async function loadedIn(lab: string) {
  const files = {
    sheets: [inputFromBytes("sheet.csv", SHEET)],
    sampleLog: inputFromBytes("log.csv", SMALL_LOG),
  };
  const loaded = await loadBatch(files, "./small-set", lab);
  if (loaded.batch === undefined) throw new Error("no batch");
  return { ...loaded, batch: loaded.batch };
}

describe("intervals that are known", () => {
  it("are those that a run folder was given, and what comes out is the same as without them", async () => {
    const lab = smallLab();
    const loaded = await loadedIn(lab);
    const plain = [...scoreBatch(loaded.batch, choices)];
    const memory = new IntervalMemory();
    await writeRun(
      { path: join(freshFolder(), "run"), shownAs: "run" },
      await runOfBatch(loaded, { reference: "./small-set", cwd: lab, choices, setChoices: {} }),
      { intervals: memory },
    );
    const withInterval = plain.filter(({ score }) => score.interval !== undefined);
    expect(withInterval.length).toBeGreaterThan(1);
    expect(memory.size).toBe(withInterval.length);
    for (const { score } of plain) expect(memory.of(score.sampleId)).toEqual(score.interval);
    expect([...scoreBatch(loaded.batch, { ...choices, known: memory })]).toEqual(plain);
  });

  it("are taken as they are, and the others worked out", async () => {
    const { batch } = await loadedIn(smallLab());
    const plain = [...scoreBatch(batch, choices)];
    const known = new IntervalMemory();
    const own = plain.find(({ score }) => score.sampleId === "D")?.score.interval;
    if (own === undefined) throw new Error("no interval");
    const other = { ...own, low: -7 };
    known.keep("D", other);
    const given = { ...choices, known };
    const threaded = [];
    for await (const { score, findings } of roadsInThreads(batch, { ...given, threads: 2 }))
      threaded.push({ score, findings });
    const scored = [...scoreBatch(batch, given)];
    expect(threaded).toEqual(scored);
    for (const [at, { score }] of scored.entries())
      expect(score.interval).toEqual(score.sampleId === "D" ? other : plain[at]?.score.interval);
  });

  it("are remembered of so many samples and no more", () => {
    const memory = new IntervalMemory();
    const interval = {} as Parameters<IntervalMemory["keep"]>[1];
    for (let sample = 0; sample < 5000; sample++) memory.keep(`S${sample}`, interval);
    expect(memory.size).toBe(4096);
    expect(memory.of("S4095")).toBe(interval);
    expect(memory.of("S4096")).toBe(undefined);
  });

  it("change nothing of what the library gives with a run folder and without", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "sheet.csv"), SHEET);
    const request = { sheets: ["sheet.csv"], reference: "./small-set", cwd: lab, resampling };
    const [plain, withRun] = [await scoreSamples(request), await scoreSamples({ ...request, run: "run" })];
    expect([...withRun.samples]).toEqual([...plain.samples]);
  });
});
