import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import type { StoredRun } from "../../src/pipeline/open-run.ts";
import { openRun } from "../../src/pipeline/open-run.ts";
import { inRunOrder } from "../../src/pipeline/run-of-batch.ts";
import type { ScoreSamplesRequest } from "../../src/pipeline/score-samples.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import { verifyRun } from "../../src/pipeline/verify-run.ts";
import { smallLab } from "../helpers/small-lab.ts";

async function runOf(lab: string, request: Partial<ScoreSamplesRequest> = {}): Promise<StoredRun> {
  await scoreSamples({
    ...{ sheets: ["sheet.csv"], samples: "log.csv", reference: "./small-set", cwd: lab, run: "run" },
    ...request,
  });
  expect((await verifyRun("run", lab)).agrees).toBe(true);
  return openRun("run", lab);
}
const record = (lab: string) => JSON.parse(readFileSync(join(lab, "run/run.json"), "utf8"));
/** Rows of a result file of the run as cells by column. */
function resultsOf(lab: string, file: string): Readonly<Record<string, string>>[] {
  const [head = "", ...lines] = readFileSync(join(lab, "run", file), "utf8")
    .trimEnd()
    .split("\n");
  const columns = head.split(",");
  return lines.map((line) => Object.fromEntries(line.split(",").map((cell, at) => [columns[at], cell])));
}

describe("the order of bench sheets in a run", () => {
  const named = (name: string, sheet?: string) => ({
    ...inputFromBytes(name, ""),
    ...(sheet === undefined ? {} : { sheet }),
  });

  it("goes by base name, then by sheet of a workbook, then by the whole name", () => {
    const files = [
      named("b/z.csv"),
      named("c/a.xlsx", "two"),
      named("x/a.xlsx"),
      named("c/a.xlsx", "one"),
      named("a/z.csv"),
    ];
    expect(inRunOrder({ sheets: files }).sheets.map(({ name, sheet }) => [name, sheet])).toEqual([
      ["x/a.xlsx", undefined],
      ["c/a.xlsx", "one"],
      ["c/a.xlsx", "two"],
      ["a/z.csv", undefined],
      ["b/z.csv", undefined],
    ]);
  });
});

describe("the choices of a run", () => {
  it.each([
    ["the set's own target", {}, "set", undefined],
    ["no target", { target: null }, "none", null],
    ["a target", { target: 12 }, 12, 12],
  ])("are stored and read back: %s", async (_, request, written, target) => {
    const lab = smallLab();
    const run = await runOf(lab, request);
    expect(record(lab).options.target).toBe(written);
    expect(run.choices).toMatchObject({ seed: "1", target, stratum: undefined, resampling: undefined });
    expect("resampling" in record(lab).options).toBe(false);
  });

  it("hold the way of resampling, with a limit of support or without one", async () => {
    const without = smallLab();
    expect((await runOf(without, { resampling: { resamples: 20 } })).choices.resampling).toEqual({
      resamples: 20,
      confidence: 0.9,
      interval: "mean",
      field: "none",
      supportLimit: undefined,
    });
    expect(record(without).options.resampling.support_limit).toBeNull();
    const lab = smallLab();
    const run = await runOf(lab, { resampling: { resamples: 20, supportLimit: 0.7 }, stratum: "all" });
    expect(run.choices).toMatchObject({ stratum: "all", resampling: { supportLimit: 0.7 } });
  });

  it("name schemes as they are, and keep files of attribute values within the run", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "own.csv"), "taxon,attribute,value\nSimulium,tolerance,3\n");
    const run = await runOf(lab, { attributes: ["rbp1999-midwest"] });
    expect(run.record.options.attributes).toEqual(["rbp1999-midwest"]);
    expect(existsSync(join(lab, "run/reference/given"))).toBe(false);
  });
});

describe("the inputs of a run", () => {
  it("are the sheets, the log and the names, by what they are for", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "names.csv"), "sheet_name,accepted_name\nZzyzx,Leuctra\n");
    const run = await runOf(lab, { names: "names.csv" });
    expect(run.record.inputs.map(({ role, file, rows }) => [role, file, rows])).toEqual([
      ["bench-sheet", "sheet.csv", 8],
      ["sample-log", "log.csv", 3],
      ["names", "names.csv", 1],
    ]);
    expect(run.record.has_names).toBe(true);
  });

  it("may be a single sheet without a log, or one without any row beside it", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "empty.csv"), "sample_id,taxon,count\n");
    await scoreSamples({
      sheets: ["sheet.csv", "empty.csv"],
      reference: "./small-set",
      cwd: lab,
      run: "run",
    });
    const run = await openRun("run", lab);
    expect(run.record.sample_log_fields).toBeNull();
    expect(run.record.inputs.map(({ role, file, name_field: field }) => [role, file, field])).toEqual([
      ["bench-sheet", "empty.csv", 0],
      ["bench-sheet", "sheet.csv", 2],
    ]);
    expect((await verifyRun("run", lab)).agrees).toBe(true);
  });
});

describe("the results of a run", () => {
  const SHEET = `sample_id,taxon,count,life_stage,part
A,Baetis,10,larva,
A,Leuctra,10,,
A,Pteronarcys,1,,large-rare
B,Simulium,5,larva,
C,Zzyzx,1,,
`;

  it("say why a metric has no value, and give no number where there is none", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "sheet.csv"), SHEET);
    await runOf(lab);
    expect(resultsOf(lab, "metrics.csv").filter(({ sample_id }) => sample_id === "B")).toEqual([
      {
        sample_id: "B",
        metric: "tolerance_index",
        value: "",
        score: "",
        why_missing: "no animal has a tolerance value",
      },
      { sample_id: "B", metric: "taxa_richness", value: "1", score: "1", why_missing: "" },
    ]);
    expect(
      resultsOf(lab, "scores.csv").map(({ sample_id, status, index, taxa_richness_score: score }) => [
        sample_id,
        status,
        index,
        score,
      ]),
    ).toEqual([
      ["A", "scored", "9.5", "2"],
      ["B", "flagged", "", "1"],
      ["C", "refused", "", ""],
    ]);
  });

  it("have the ends of intervals behind the metrics where resamples were drawn", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "sheet.csv"), SHEET);
    await runOf(lab, { resampling: { resamples: 20 } });
    const [tolerance, richness] = resultsOf(lab, "metrics.csv");
    expect(Number(tolerance?.low)).toBeLessThanOrEqual(2.5);
    expect(Number(tolerance?.high)).toBeGreaterThanOrEqual(2.5);
    expect([richness?.low, richness?.high].map((end) => end !== "")).toEqual([true, true]);
    // A metric that is missing has no ends either.
    expect(resultsOf(lab, "metrics.csv").find(({ value }) => value === "")).toMatchObject({
      low: "",
      high: "",
      support: "",
    });
  });

  it("list piles with stage and part, and the draw of each sample", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "sheet.csv"), SHEET);
    await runOf(lab, { target: 8 });
    expect(
      resultsOf(lab, "piles.csv")
        .filter(({ sample_id }) => sample_id === "A")
        .map(({ name, life_stage, part }) => [name, life_stage, part]),
    ).toEqual([
      ["Baetis", "larva", "main"],
      ["Leuctra", "", "main"],
      ["Pteronarcys", "", "large-rare"],
    ]);
    expect(
      resultsOf(lab, "draw.csv").map((row) => [
        row.sample_id,
        row.draw,
        row.target,
        row.animals_before,
        row.animals_after,
      ]),
    ).toEqual([
      ["A", "drawn", "8", "20", "8"],
      ["B", "under-target", "8", "5", "5"],
      ["C", "refused", "", "", ""],
    ]);
  });
});

describe("a run that cannot be opened", () => {
  it("says what a file that is no record of a run is", async () => {
    const lab = smallLab();
    await runOf(lab);
    writeFileSync(join(lab, "run/run.json"), "{}");
    await expect(openRun("run/", lab)).rejects.toThrow(/^run\/run\.json/);
    writeFileSync(join(lab, "run/run.json"), "{");
    await expect(openRun("run", lab)).rejects.toThrow(/^run\/run\.json/);
  });

  it("names the set that is broken within it", async () => {
    const lab = smallLab();
    await runOf(lab);
    writeFileSync(join(lab, "run/reference/sets/small-set/thresholds.csv"), "stratum,metric\nall,nothing\n");
    await expect(openRun("run", lab)).rejects.toThrow(/^run\/reference\/sets\/small-set/);
  });
});
