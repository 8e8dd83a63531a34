import { readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { Exact } from "../../../src/model/exact.ts";
import { toNumber } from "../../../src/model/exact.ts";
import type { RescoredBatch } from "../../../src/pipeline/rescore/rescore-samples.ts";
import { rescoreSamples } from "../../../src/pipeline/rescore/rescore-samples.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import { verifyRun } from "../../../src/pipeline/verify-run.ts";
import { smallLab, writeSmallSet } from "../../helpers/small-lab.ts";

const number = (value: Exact | undefined) => (value === undefined ? undefined : toNumber(value));
const sampleOf = (batch: RescoredBatch, id: string) => batch.samples.find((one) => one.sampleId === id);
const partsOf = (batch: RescoredBatch, id: string) => {
  const causes = sampleOf(batch, id)?.causes;
  return causes === undefined
    ? undefined
    : Object.fromEntries(Object.entries(causes).map(([kind, part]) => [kind, toNumber(part)]));
};

/*
 * Sample S-1: 10 Baetis (tolerance 5) and 10 Leuctra (0). Mean tolerance 50 / 20 = 2.5, scored 10 - 2.5 = 7.5;
 * 2 taxa, scored 2. Index 9.5.
 *
 * Then the tolerance of Baetis becomes 7 and the line of the tolerance goes from 10 at 0 to 0 at 5 (not at 10).
 * Mean 70 / 20 = 3.5, scored 10 - 2 x 3.5 = 3; index 5. Change -4.5.
 *   only the value:     10 - 3.5     = 6.5, index 8.5
 *   only the threshold: 10 - 2 x 2.5 = 5,   index 7
 * Value:     ((8.5 - 9.5) + (5 - 7)) / 2   = -1.5
 * Threshold: ((7 - 9.5) + (5 - 8.5)) / 2 = -3
 */
const NEW_THRESHOLDS = [
  ["tolerance_index", "0", "5", "10", "0"],
  ["taxa_richness", "0", "10", "0", "10"],
] as const;

let lab = "";
beforeAll(async () => {
  lab = smallLab();
  const request = { sheets: ["sheet.csv"], samples: "log.csv", reference: "./small-set", cwd: lab };
  await scoreSamples({ ...request, run: "run" });
});

describe("a re-score worked by hand", () => {
  it("shares the change between one tolerance value and one threshold", async () => {
    writeSmallSet(lab, { folder: "next", thresholds: NEW_THRESHOLDS, tolerance: { Baetis: "7" } });
    const batch = await rescoreSamples({ runs: ["run"], reference: "./next", cwd: lab });
    const one = sampleOf(batch, "S-1");
    expect([number(one?.before.index), number(one?.after.index), number(one?.change)]).toEqual([
      9.5, 5, -4.5,
    ]);
    expect([one?.before.rating, one?.after.rating]).toEqual(["fair", "poor"]);
    expect(partsOf(batch, "S-1")).toEqual({ counts: 0, names: 0, attributes: -1.5, metrics: -3, rules: 0 });
  });

  it("goes down to the value and to the line of the threshold, with what each alone would do", async () => {
    writeSmallSet(lab, { folder: "next-why", thresholds: NEW_THRESHOLDS, tolerance: { Baetis: "7" } });
    const batch = await rescoreSamples({ runs: ["run"], reference: "./next-why", cwd: lab });
    const rows = batch.why("S-1").filter((row) => row.cause !== "result");
    expect(rows.map(({ cause, item, what, before, after }) => [cause, item, what, before, after])).toEqual([
      ["attributes", "Baetis", "tolerance", "5", "7"],
      ["metrics", "tolerance_index", "threshold", "[0, 10]: 10 to 0", "[0, 5]: 10 to 0"],
    ]);
    expect(rows.map((row) => number(row.alone))).toEqual([-1, -2.5]);
    // Baetis is the first of the taxa, in line 2.
    expect(rows[0]?.placeBefore).toBe("reference/sets/small-set/taxa.csv:2");
    expect(rows[0]?.placeAfter).toBe("./next-why/taxa.csv:2");
    expect(rows[1]?.placeBefore).toBe("reference/sets/small-set/thresholds.csv:2");
    expect(rows[1]?.placeAfter).toBe("./next-why/thresholds.csv:2");
    const results = batch.why("S-1").filter((row) => row.cause === "result");
    expect(results.at(-1)).toMatchObject({ item: "index", before: "9.5, fair", after: "5, poor" });
  });

  it("changes nothing under the same set", async () => {
    const batch = await rescoreSamples({ runs: ["run"], reference: "./small-set", cwd: lab });
    expect(partsOf(batch, "S-1")).toEqual({ counts: 0, names: 0, attributes: 0, metrics: 0, rules: 0 });
    expect(batch.summary).toMatchObject({ samples: 3, changedRating: 0, changedIndexOnly: 0, unchanged: 3 });
    expect(batch.why("S-1").filter((row) => row.cause !== "result")).toEqual([]);
  });

  it("gives the whole change to the rules when only the index is put together otherwise", async () => {
    // The mean of 7.5 and 2 is 4.75.
    writeSmallSet(lab, { folder: "mean", definition: { index: { method: "mean" } } });
    const batch = await rescoreSamples({ runs: ["run"], reference: "./mean", cwd: lab });
    expect(partsOf(batch, "S-1")).toEqual({ counts: 0, names: 0, attributes: 0, metrics: 0, rules: -4.75 });
    expect(batch.why("S-1")[0]).toMatchObject({ cause: "rules", item: "index" });
  });

  it("gives the whole change to the names when the level is another", async () => {
    // At order, Baetis and Leuctra have no value of their own and no rank above them has one: no mean.
    // Only richness is left in this set, 2 orders, so nothing changes; S-3 keeps its four groups too.
    const definition = {
      metrics: [{ id: "taxa_richness" }],
      attributes: {},
      index: { method: "sum" },
    };
    const thresholds = [["taxa_richness", "0", "10", "0", "10"]] as const;
    const one = join(lab, "plain.csv");
    writeFileSync(one, "sample_id,taxon,count\nP,Baetis,4\nP,Ephemerella,4\nP,Leuctra,2\n");
    for (const [folder, rank] of [
      ["genus", "genus"],
      ["order", "order"],
    ] as const) {
      const set = writeSmallSet(lab, {
        folder,
        thresholds,
        definition: { ...definition, level: { rank, exceptions: [] } },
      });
      writeFileSync(join(set, "taxa.csv"), "taxon,attribute,value\n");
    }
    await scoreSamples({ sheets: ["plain.csv"], reference: "./genus", cwd: lab, run: "plain-run" });
    const batch = await rescoreSamples({ runs: ["plain-run"], reference: "./order", cwd: lab });
    // Three genera are two orders: 3 to 2 points.
    expect(partsOf(batch, "P")).toEqual({ counts: 0, names: -1, attributes: 0, metrics: 0, rules: 0 });
    expect(
      batch.why("P").map(({ cause, item, before, after }) => [cause, item, before, after]),
    ).toContainEqual(["names", "Ephemerella", "Ephemerella", "Ephemeroptera"]);
  });

  it("says why a change is not attributable: a refused sample, an index of another kind", async () => {
    const same = await rescoreSamples({ runs: ["run"], reference: "./small-set", cwd: lab });
    expect(sampleOf(same, "S-2")).toMatchObject({
      causes: undefined,
      change: undefined,
      notAttributable: "refused before (unknown-taxon); refused after (unknown-taxon)",
    });
    writeSmallSet(lab, { folder: "other", definition: { index: { method: "sum", higher_is: "worse" } } });
    const other = await rescoreSamples({ runs: ["run"], reference: "./other", cwd: lab });
    expect(sampleOf(other, "S-1")?.notAttributable).toMatch(
      /^the index is of another kind: .*better; now .*worse$/,
    );
    expect(sampleOf(other, "S-1")?.change).toBeUndefined();
  });
});

describe("corrections", () => {
  const amend = (rows: string) => ({
    name: "qc/amend.csv",
    content: `sample_id,taxon,old_count,new_count,reason,by,on\n${rows}`,
  });

  it("are said to be what changed the score, leave the rows alone, and stay in the new run", async () => {
    // 20 Baetis and 10 Leuctra: mean 100 / 30, scored 10 - 10/3 = 20/3; index 26/3, change 26/3 - 9.5 = -5/6.
    const batch = await rescoreSamples({
      runs: ["run"],
      amend: amend("S-1,Baetis,10,20,recovered from the residue,KMO,2024-07-01\n"),
      cwd: lab,
      run: "amended",
    });
    const one = sampleOf(batch, "S-1");
    expect(one?.change).toEqual({ num: -5, den: 6 });
    expect(one?.causes?.counts).toEqual({ num: -5, den: 6 });
    expect(batch.why("S-1")[0]).toEqual({
      cause: "counts",
      item: "Baetis",
      what: "count; recovered from the residue; KMO; 2024-07-01",
      before: "10",
      after: "20",
      placeBefore: "",
      placeAfter: "qc/amend.csv:2",
    });
    const verified = await verifyRun("amended", lab);
    expect([verified.agrees, verified.findings]).toEqual([true, []]);
    expect(verified.record?.inputs.map(({ role, file }) => `${role} ${file}`)).toEqual([
      "bench-sheet sheet.csv",
      "sample-log log.csv",
      "amendment amend.csv",
    ]);
    const first = await verifyRun("run", lab);
    expect(verified.record?.rescored_from?.fingerprint).toBe(first.fingerprint);
    // And again on top of it: the old count is the corrected one.
    const again = await rescoreSamples({
      runs: ["amended"],
      amend: amend("S-1,Baetis,20,10,counted twice,KMO,2024-07-02\n"),
      cwd: lab,
      run: "amended-back",
    });
    expect(number(sampleOf(again, "S-1")?.after.index)).toBe(9.5);
    expect((await verifyRun("amended-back", lab)).agrees).toBe(true);
  });

  it("that do not fit refuse the run and leave no folder", async () => {
    const batch = await rescoreSamples({
      runs: ["run"],
      amend: amend("S-1,Baetis,9,20,recovered,KMO,\n"),
      cwd: lab,
      run: "never",
    });
    expect(batch.refusedRuns).toEqual(["run"]);
    expect(batch.findings.map((one) => one.message)).toEqual(["sample S-1 has 10 Baetis, not 9"]);
    expect(readdirSync(lab)).not.toContain("never");
  });

  it("of a sample that no run has are said", async () => {
    const batch = await rescoreSamples({
      runs: ["run"],
      amend: amend("X-9,Baetis,9,20,why,KMO,\n"),
      cwd: lab,
    });
    expect(batch.findings.map((one) => [one.code, one.message])).toEqual([
      ["amendment-does-not-fit", "no run has the sample X-9"],
    ]);
  });
});

describe("several runs", () => {
  it("are one batch with one summary, and leave one folder of runs", async () => {
    writeSmallSet(lab, { folder: "batch", tolerance: { Baetis: "7" } });
    const years = { sheets: ["sheet.csv"], reference: "./small-set", cwd: lab };
    const { mkdirSync } = await import("node:fs");
    mkdirSync(join(lab, "years"));
    await scoreSamples({ ...years, run: "years/2023" });
    await scoreSamples({ ...years, run: "years/2024" });
    const batch = await rescoreSamples({
      runs: ["years"],
      reference: "./batch",
      cwd: lab,
      run: "years-again",
    });
    expect(batch.samples.map((one) => `${one.run} ${one.sampleId}`)).toEqual(
      ["2023", "2024"].flatMap((year) => ["S-1", "S-2", "S-3"].map((id) => `years/${year} ${id}`)),
    );
    expect(batch.summary.samples).toBe(6);
    expect(readdirSync(join(lab, "years-again")).sort()).toEqual(["2023", "2024"]);
    for (const year of ["2023", "2024"])
      expect((await verifyRun(`years-again/${year}`, lab)).agrees).toBe(true);
  });
});
