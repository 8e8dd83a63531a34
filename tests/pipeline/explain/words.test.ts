import { describe, expect, it } from "vitest";
import { explainSample } from "../../../src/pipeline/explain/explain-sample.ts";
import type { SampleStory } from "../../../src/pipeline/explain/story.ts";
import { EXPLAIN_COLUMNS, metricRows, storyRows } from "../../../src/pipeline/explain/story-rows.ts";
import type { ScoringChoices } from "../../../src/pipeline/score-batch.ts";
import type { SmallFiles } from "../../helpers/small-batch.ts";
import { smallBatch } from "../../helpers/small-batch.ts";

const SUM: NonNullable<SmallFiles["set"]> = {
  index: { method: "sum" },
  ratings: {
    on: "unrounded",
    classes: [
      { rating: "good", lower: 3, lower_included: true },
      { rating: "poor", upper: 3, upper_included: false },
    ],
  },
};
const LINE = "all,taxa_richness,value,0,yes,10,yes,0,10,,,,\n";
const SHEET = "sample_id,taxon,count\nA,Epeorus,6\nA,Simulium,3\nA,Drunella,1\n";

async function storyOf(
  files: Partial<SmallFiles>,
  choices: Partial<ScoringChoices> = {},
): Promise<SampleStory> {
  const batch = await smallBatch({ sheet: SHEET, ...files, set: { ...SUM, ...files.set } });
  const story = explainSample(batch, { seed: "1", ...choices }, "A");
  if (story === undefined) throw new Error("no sample A");
  return story;
}

type Cells = Readonly<Record<string, unknown>>;
const asCells = (row: readonly unknown[]): Cells =>
  Object.fromEntries(EXPLAIN_COLUMNS.map(({ name }, at) => [name, row[at]]));
/** Rows of a step of the story, as cells by column. */
const rowsOf = (story: SampleStory, step: string) =>
  [...storyRows(story)].map(asCells).filter((row) => row.step === step);
/** What is said of the first metric and of each of its thresholds. */
function metricWords(story: SampleStory): readonly unknown[] {
  const [metric] = story.metrics;
  if (metric === undefined) throw new Error("no metric");
  return [...metricRows(story, metric)]
    .map(asCells)
    .filter(({ step }) => step !== "part")
    .map(({ how }) => how);
}

describe("the words of a metric", () => {
  it("say what rounding made of its value", async () => {
    // Two of three taxa are mayflies.
    const set = {
      metrics: [
        { id: "share", metric: "percent_taxa", settings: { within: ["Ephemeroptera"] }, round_to: 1 },
      ],
    };
    const story = await storyOf({ set, thresholds: "all,share,value,0,yes,100,yes,0,10,,,,\n" });
    expect(metricWords(story)[0]).toMatch(/66\.6+7? rounded to 1 decimals is 66\.7/);
    // A missing value is not rounded.
    const missing = { metrics: [{ id: "tolerance_index", round_to: 2 }] };
    const none = await storyOf({
      sheet: "sample_id,taxon,count\nA,Nematomorpha,6\n",
      set: missing,
      thresholds: "all,tolerance_index,value,0,yes,10,yes,0,10,,,,\n",
    });
    expect(rowsOf(none, "metric")[0]?.value).toMatch(/^missing: no animal has a tolerance value$/);
    expect(metricWords(none)[0]).not.toContain("rounded");
    expect(none.index?.whyNone).toBe("no score for tolerance_index");
  });

  it("say by which covariate it was adjusted, or that the log does not have it", async () => {
    const set = { metrics: [{ id: "taxa_richness", adjust: { covariate: "area", slope: 0.1, at: 10 } }] };
    const log = "sample_id,stratum,area\nA,all,20\n";
    const [words] = metricWords(await storyOf({ set, thresholds: LINE, log }));
    // 3 - 0.1 x (20 - 10)
    expect(words).toContain("adjusted for the covariate: 2; area 20");
    const without = await storyOf({ set, thresholds: LINE });
    expect(metricWords(without)[0]).toContain("area is not in the sample log");
    expect(without.index?.whyNone).toBe("no score for taxa_richness");
  });

  it("say the reference sample's value where the limits are percentages of it", async () => {
    const thresholds = "all,taxa_richness,percent-of-reference,0,yes,1000,yes,0,10,,,,\n";
    const log = "sample_id,stratum,reference_sample_id\nA,all,R\nR,all,\n";
    const sheet = `${SHEET}R,Epeorus,5\nR,Simulium,1\n`;
    const story = await storyOf({ sheet, log, thresholds });
    const [words, threshold] = metricWords(story);
    expect(words).toContain("the reference sample has 2");
    expect(threshold).toContain("percent of the reference");
    // 3 of 2 taxa are 150 percent.
    expect(story.metrics[0]?.scoreArithmetic).toMatch(/150/);
  });

  it("say that a value lies beyond the outer segment, or in a gap as it was published", async () => {
    const low = "all,taxa_richness,value,5,yes,10,yes,1,1,,,,\n";
    expect(metricWords(await storyOf({ thresholds: low }))[1]).toBe(
      "all; from 5 up to 10: 1; beyond the outer segment: the score of its nearest end",
    );
    const gap = "all,taxa_richness,value,0,yes,2,yes,1,1,,,,\nall,taxa_richness,value,4,yes,9,yes,5,5,,,,\n";
    const set = {
      metrics: [{ id: "taxa_richness", as_published: "gap" as const, tie_rule: "below" as const }],
    };
    expect(
      metricWords(await storyOf({ thresholds: gap, set })).filter((one) => String(one).includes("gap")),
    ).toEqual(["all; from 0 up to 2: 1; in a published gap: by the set's tie rule"]);
  });
});

describe("the words of the index", () => {
  it("say what the weights and the best sum are", async () => {
    const metrics = [
      { id: "taxa_richness", weight: 3 },
      { id: "ept_richness", weight: 1 },
    ];
    const thresholds = `${LINE}all,ept_richness,value,0,yes,10,yes,0,10,,,,\n`;
    // 3 taxa, 2 of them mayflies: (9 + 2) / 4.
    const weighted = await storyOf({ set: { metrics, index: { method: "weighted-mean" } }, thresholds });
    expect(weighted.index?.arithmetic).toBe("(3 x 3 + 1 x 2) / 4 = 2.75");
    const scaled = { method: "scaled-sum" as const, scale_to: 100, best_sum: 20 };
    const whole = await storyOf({ set: { metrics, index: scaled }, thresholds });
    expect(whole.index?.arithmetic).toBe("(3 + 2) x 100 / 20 = 25");
    // Without one of two metrics the best that can be reached is half of it.
    const left = [{ id: "taxa_richness" }, { id: "tolerance_index" }];
    const part = await storyOf({
      sheet: "sample_id,taxon,count\nA,Nematomorpha,6\n",
      set: { metrics: left, index: { ...scaled, missing_metric: "leave-out" } },
      thresholds: `${LINE}all,tolerance_index,value,0,yes,10,yes,0,10,,,,\n`,
    });
    expect(part.index?.arithmetic).toBe("(1) x 100 / (20 x 1 / 2) = 10");
  });

  it("say that it is a percentage of the reference sample's, and that there is none", async () => {
    const set = { index: { method: "sum" as const, percent_of_reference: true } };
    const log = "sample_id,stratum,reference_sample_id\nA,all,R\nR,all,\n";
    const sheet = `${SHEET}R,Epeorus,5\nR,Simulium,1\n`;
    const story = await storyOf({ sheet, log, set, thresholds: LINE });
    expect(story.index?.arithmetic).toBe("3, in percent of the reference sample's own = 150");
    const none = await storyOf({ set, thresholds: LINE });
    expect(none.index).toMatchObject({ index: undefined, whyNone: "no score for the reference sample" });
    expect(none.index?.arithmetic).toBe("3, in percent of the reference sample's own");
  });

  it("name the metric whose value it is, one that counts as it is among the summed", async () => {
    const plain = await storyOf({ set: { index: { method: "metric", metric: "taxa_richness" } } });
    expect(plain.index?.arithmetic).toBe("the value of taxa_richness = 3");
    const metrics = [{ id: "taxa_richness" }, { id: "ept_richness" }];
    expect((await storyOf({ set: { metrics }, thresholds: LINE })).index?.arithmetic).toBe("3 + 2 = 5");
  });
});

describe("the rows of the story", () => {
  it("show a draw that was not made without target and algorithm, and one that was with both", async () => {
    const drawValue = (story: SampleStory, item: string) =>
      rowsOf(story, "draw").find((row) => row.item === item)?.value;
    const whole = await storyOf({ thresholds: LINE });
    expect(["status", "target", "algorithm"].map((item) => drawValue(whole, item))).toEqual([
      "not-drawn",
      "",
      "",
    ]);
    const drawn = await storyOf({ thresholds: LINE }, { target: 5 });
    expect(["status", "target"].map((item) => drawValue(drawn, item))).toEqual(["drawn", "5"]);
    expect(drawValue(drawn, "algorithm")).toMatch(/^fixed-count-individual\//);
  });

  it("end after the rows of the sheet where a sample was refused", async () => {
    const story = await storyOf({ sheet: "sample_id,taxon,count\nA,Zzyzx,6\n", thresholds: LINE });
    const steps = new Set([...storyRows(story)].map((row) => asCells(row).step));
    for (const step of ["draw", "taxon", "metric", "index"]) expect(steps).not.toContain(step);
  });

  it("say which taxa have no value, and where others have theirs from", async () => {
    const set = {
      metrics: [{ id: "tolerance_index" }],
      index: { method: "metric" as const, metric: "tolerance_index" },
    };
    const story = await storyOf({
      sheet: "sample_id,taxon,count\nA,Hesperoperla,3\nA,Nematomorpha,1\n",
      set,
    });
    expect(
      rowsOf(story, "attribute").map(({ taxon, source, value, how }) => [taxon, source, value, how]),
    ).toEqual([
      ["Hesperoperla", "rbp1999-northwest, rbp1999", "1", "row of Perlidae (seen)"],
      ["Nematomorpha", "rbp1999-northwest", "", "no rank of its line has a value"],
    ]);
  });

  it("say what the sheet calls distinct, and which records others stand for", async () => {
    const sheet =
      "sample_id,taxon,count,distinct,number_of_taxa\nA,Heptageniidae,2,,\nA,Epeorus,6,,\nA,Baetidae,1,yes,\nA,Baetis,1,,\nA,Simulium,3,no,\nA,Oligochaeta,3,,3\n";
    const story = await storyOf({ sheet, thresholds: LINE });
    expect(
      Object.fromEntries(story.taxa.map(({ taxon, richness, why }) => [taxon, [richness, why]])),
    ).toMatchObject({
      Heptageniidae: [0, "finer records stand for it: Epeorus"],
      Epeorus: [1, "distinct"],
      Baetidae: [1, "the sheet says that it is distinct"],
      Simulium: [0, "the sheet says that it is not distinct"],
      Oligochaeta: [3, "stands for 3 taxa"],
    });
  });

  it("say that parents are looked for over the whole batch where the set does so", async () => {
    const sheet = "sample_id,taxon,count\nA,Heptageniidae,2\nA,Simulium,3\nB,Epeorus,6\n";
    const story = await storyOf({ sheet, set: { scope: "batch" }, thresholds: LINE });
    expect(story.parents).toBe("distinct, over the whole batch");
    expect(story.taxa.find(({ taxon }) => taxon === "Heptageniidae")?.why).toBe(
      "finer records are in other samples of the batch",
    );
  });

  it("end with the certainty of the index where resamples were drawn", async () => {
    const resampling = {
      resamples: 50,
      confidence: 0.9,
      interval: "mean",
      supportLimit: undefined,
      field: "none",
    } as const;
    const story = await storyOf({ thresholds: LINE }, { resampling });
    const ends = rowsOf(story, "index").map(({ item }) => item);
    expect(ends.slice(-2)).toEqual(["interval", "support"]);
  });
});
