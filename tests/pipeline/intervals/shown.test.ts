import { describe, expect, it } from "vitest";
import { certaintyWords } from "../../../src/pipeline/explain/certainty-words.ts";
import type { ScoringChoices } from "../../../src/pipeline/score-batch.ts";
import { scoreBatch } from "../../../src/pipeline/score-batch.ts";
import { intervalText, longRows, wideRow } from "../../../src/pipeline/score-tables.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { SmallFiles } from "../../helpers/small-batch.ts";
import { smallBatch } from "../../helpers/small-batch.ts";

/** Sixteen taxa, half of them rare. */
const COUNTS = {
  Baetis: 40,
  Simulium: 25,
  Hydropsyche: 20,
  Drunella: 15,
  Zapada: 12,
  Rhyacophila: 9,
  Epeorus: 7,
  Cinygmula: 5,
  Sweltsa: 4,
  Glossosoma: 3,
  Brachycentrus: 2,
  Optioservus: 2,
  Skwala: 1,
  Ameletus: 1,
  Lepidostoma: 1,
  Calineuria: 1,
};

/** Rows of a sample with the commonest of the taxa. */
const rowsOf = (id: string, taxa = 16): string =>
  Object.entries(COUNTS)
    .slice(0, taxa)
    .map(([taxon, count]) => `${id},${taxon},${count}\n`)
    .join("");
const sheetOf = (...rows: readonly string[]) => `sample_id,taxon,count\n${rows.join("")}`;

async function scored(
  files: SmallFiles,
  plan: Partial<Parameters<typeof resamplingPlan>[0]> = {},
  choices: Partial<ScoringChoices> = {},
) {
  const batch = await smallBatch(files);
  const resampling = resamplingPlan({ resamples: 300, ...plan });
  const samples = [...scoreBatch(batch, { seed: "1", resampling, ...choices })];
  return { samples, set: batch.compiled.set };
}

const classes = (...all: readonly (readonly [string, number | undefined, number | undefined])[]) => ({
  on: "unrounded" as const,
  classes: all.map(([rating, lower, upper]) => ({
    rating,
    ...(lower === undefined ? {} : { lower, lower_included: true }),
    ...(upper === undefined ? {} : { upper, upper_included: false }),
  })),
});

describe("what duplicates in the field differ by", () => {
  // A and B are duplicates with 16 and 6 taxa, C and D replicates with 16 and 10; E is nobody's.
  const sheet = sheetOf(rowsOf("A"), rowsOf("B", 6), rowsOf("C"), rowsOf("D", 10), rowsOf("E"));
  const log = `sample_id,stratum,fraction_sorted,duplicate_of,replicate_of
A,all,0.5,,
B,all,0.5,A,
C,all,0.5,,
D,all,0.5,,C
E,all,0.5,,
`;
  const widthOf = (one: Awaited<ReturnType<typeof scored>>["samples"][number] | undefined) =>
    (one?.score.interval?.high ?? Number.NaN) - (one?.score.interval?.low ?? Number.NaN);

  it("makes the interval of every sample wider, and is named as a source", async () => {
    const without = await scored({ sheet, log });
    const within = await scored({ sheet, log }, { field: "duplicate_of" });
    for (const [at, one] of within.samples.entries()) {
      expect(one.score.interval?.sources).toEqual(["subsampling", "field"]);
      expect(widthOf(one)).toBeGreaterThan(widthOf(without.samples[at]) + 1);
    }
  });

  it("says once from how many samples and sites it is", async () => {
    const said = async (field: "duplicate_of" | "replicate_of" | "both") =>
      (await scored({ sheet, log }, { field })).samples.flatMap(({ findings }) =>
        findings.filter(({ code }) => code === "field-variance").map(({ message }) => message),
      );
    expect(await said("duplicate_of")).toEqual([
      expect.stringMatching(
        /^the field part of the intervals is from 2 samples of 1 sites: standard deviation of the index \d/,
      ),
    ]);
    expect(await said("both")).toEqual([expect.stringMatching(/ from 4 samples of 2 sites: /)]);
  });

  it("is 0 where duplicates are alike, so nothing gets wider", async () => {
    const alike = sheetOf(rowsOf("A"), rowsOf("B"));
    const without = await scored({ sheet: alike, log });
    const within = await scored({ sheet: alike, log }, { field: "both" });
    expect(widthOf(within.samples[0])).toBe(widthOf(without.samples[0]));
  });

  it("is left out, with a word, where no two samples of a pair have an index", async () => {
    // The duplicate of A is not on the sheet, that of C is refused, and F has no animal.
    const files = {
      sheet: sheetOf(rowsOf("A"), rowsOf("C"), "D,Zzyzx,4\n"),
      log: "sample_id,stratum,duplicate_of,replicate_of\nA,all,,\nB,all,A,\nC,all,,\nD,all,,C\n",
    };
    const { samples } = await scored(files, { field: "both" });
    expect(samples[0]?.score.interval?.sources).toEqual(["subsampling"]);
    expect(samples[0]?.findings.find(({ code }) => code === "no-field-variance")).toMatchObject({
      file: "log.csv",
      line: 0,
      message:
        "no two samples that duplicate_of or replicate_of joins have an index, so the field is not in the intervals",
    });
  });

  it("is left out without a sample log too", async () => {
    const { samples } = await scored({ sheet: sheetOf(rowsOf("A")) }, { field: "duplicate_of" });
    expect(samples[0]?.findings.map(({ code }) => code)).toContain("no-field-variance");
  });
});

describe("a sample near a class limit", () => {
  const files = { sheet: sheetOf(rowsOf("A")), log: "sample_id,stratum,fraction_sorted\nA,all,0.3\n" };
  const near = async (ratings: ReturnType<typeof classes>, supportLimit: number) => {
    const { samples } = await scored({ ...files, set: { ratings } }, { supportLimit });
    const [one] = samples;
    return {
      flags: one?.score.flags,
      status: one?.score.status,
      interval: one?.score.interval,
      message: one?.findings.find(({ code }) => code === "near-class-limit")?.message,
    };
  };

  it("is flagged with the rating that is next most likely", async () => {
    const { flags, status, message, interval } = await near(
      classes(["many", 17, undefined], ["few", undefined, 17]),
      1,
    );
    expect(flags).toContain("near-class-limit");
    expect(status).toBe("flagged");
    expect(interval?.next?.rating).toBe("many");
    expect(message).toMatch(
      /^the rating few of A is that of [\d.]+ percent of its resamples \(limit 100 percent\); next most likely: many$/,
    );
  });

  it("is told where the next most likely has no rating", async () => {
    const { message, interval } = await near(classes(["few", undefined, 17]), 1);
    expect(interval?.next?.rating).toBe("");
    expect(message).toMatch(/; next most likely: no rating$/);
    expect(certaintyWords(interval)[1]?.[1]).toMatch(/all: .*no rating [\d.]+ percent/);
  });

  it("is not where every resample has the same rating", async () => {
    const { flags, interval } = await near(classes(["any", 0, undefined]), 1);
    expect(flags).not.toContain("near-class-limit");
    expect(interval?.next).toBeUndefined();
    expect(interval?.support).toBe(1);
  });

  it("shows equal shares in the order of the set's classes", async () => {
    const { interval } = await near(classes(["many", 17, undefined], ["few", undefined, 17]), 0);
    const shares = interval?.ratings.map(({ share }) => share) ?? [];
    expect(shares).toEqual([...shares].sort((a, b) => b - a));
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
  });
});

describe("cells and words of an interval", () => {
  const set: SmallFiles["set"] = {
    metrics: [{ id: "tolerance_index" }, { id: "taxa_richness" }],
    index: { method: "metric", metric: "tolerance_index", round_to: 1 },
  };

  it("stand at the end of the wide row, and in every row of the long layout", async () => {
    const one = await scored({ sheet: sheetOf(rowsOf("A")), set });
    const score = one.samples[0]?.score;
    if (score?.interval === undefined) throw new Error("no interval");
    const { low, high, support, metrics } = score.interval;
    const source = "mean: subsampling";
    expect(intervalText(score.interval)).toBe(source);
    expect(wideRow(one.set, score, true).slice(-5)).toEqual([low, high, support, "", source]);
    expect(wideRow(one.set, score, true).slice(0, -5)).toEqual(wideRow(one.set, score));
    // The index is rounded to one decimal, and so are its ends.
    expect(low).toBe(Math.round((low ?? 0) * 10) / 10);
    const long = longRows(one.set, score, true);
    expect(long.map((row) => [row[3], ...row.slice(-4)])).toEqual([
      ["tolerance_index", metrics[0]?.low, metrics[0]?.high, null, source],
      ["taxa_richness", metrics[1]?.low, metrics[1]?.high, null, source],
      ["index", low, high, support, source],
    ]);
    expect(longRows(one.set, score)).toEqual(long.map((row) => row.slice(0, -4)));
  });

  it("are empty for a sample that was refused", async () => {
    const one = await scored({ sheet: sheetOf(rowsOf("A"), "B,Zzyzx,4\n"), set });
    const score = one.samples[1]?.score;
    if (score === undefined) throw new Error("no sample");
    expect(wideRow(one.set, score, true).slice(-5)).toEqual([null, null, null, "", ""]);
    expect(longRows(one.set, score, true)).toEqual([
      ["B", "plain", "index", "index", null, null, "refused", null, null, null, ""],
    ]);
  });

  it("have no ends where the index is missing, while other metrics keep theirs", async () => {
    // It has no value in the table of tolerance values.
    const one = await scored({ sheet: sheetOf("A,Nematomorpha,4\n"), set });
    const score = one.samples[0]?.score;
    if (score?.interval === undefined) throw new Error("no interval");
    expect(score.index).toBeUndefined();
    expect(wideRow(one.set, score, true).slice(-5)).toEqual([null, null, null, "", "mean: subsampling"]);
    const rows = longRows(one.set, score, true);
    expect(rows.map((row) => [row[3], row[4], ...row.slice(-4, -1)])).toEqual([
      ["tolerance_index", null, null, null, null],
      ["taxa_richness", 1, 1, 1, null],
      ["index", null, null, null, null],
    ]);
    expect(certaintyWords(score.interval)).toEqual([
      [
        "interval",
        expect.stringMatching(
          /^none: 90 percent interval of the mean over all fixed-count draws from this jar, from 300 resamples; in it: subsampling$/,
        ),
      ],
      ["support", "none"],
    ]);
  });

  it("say what the interval is about", async () => {
    const other = await scored({ sheet: sheetOf(rowsOf("A")) }, { interval: "another-draw" });
    const interval = other.samples[0]?.score.interval;
    const [[, text] = []] = certaintyWords(interval);
    expect(text).toMatch(
      /^[\d.]+ to [\d.]+: 90 percent interval of another fixed-count draw from this jar, /,
    );
    expect(certaintyWords(interval)[1]?.[1]).toBe(
      "100 percent of the resamples have the same rating; all: any 100 percent",
    );
    expect(certaintyWords(undefined)).toEqual([]);
  });

  it("are not given of totals and densities, which rest on the share sorted", async () => {
    const total: SmallFiles["set"] = { metrics: [{ id: "taxa_richness" }, { id: "estimated_total" }] };
    const log = "sample_id,stratum,fraction_sorted\nA,all,0.5\n";
    const one = await scored({ sheet: sheetOf(rowsOf("A")), log, set: total });
    expect(one.samples[0]?.score.interval?.metrics[1]).toMatchObject({
      low: undefined,
      high: undefined,
      support: undefined,
    });
  });
});

describe("a sample that allows no interval", () => {
  it("says so where it has no animal", async () => {
    const { samples } = await scored({ sheet: "sample_id,taxon,count,life_stage\nA,Glossosoma,4,case\n" });
    expect(samples[0]?.score.interval).toBeUndefined();
    expect(samples[0]?.findings.find(({ code }) => code === "no-interval")?.message).toBe(
      "the certainty of A cannot be worked out: it has no animal",
    );
  });
});
