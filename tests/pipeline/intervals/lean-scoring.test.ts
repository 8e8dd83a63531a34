import { describe, expect, it } from "vitest";
import type { SetDefinitionInput } from "../../../src/model/reference-set.ts";
import type { ScoredSample } from "../../../src/pipeline/score-batch.ts";
import { scoreBatch } from "../../../src/pipeline/score-batch.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import { smallBatch } from "../../helpers/small-batch.ts";

const TAXA = [
  "Baetis",
  "Simulium",
  "Hydropsyche",
  "Drunella",
  "Zapada",
  "Rhyacophila",
  "Epeorus",
  "Cinygmula",
];
const COUNTS = [40, 20, 10, 6, 3, 2, 1, 1];
const rowsOf = (id: string, taxa = 8) =>
  TAXA.slice(0, taxa)
    .map((taxon, at) => `${id},${taxon},${COUNTS[at]}\n`)
    .join("");

const CLASSES: SetDefinitionInput["ratings"] = {
  on: "unrounded",
  classes: [
    { rating: "high", lower: 7, lower_included: true },
    { rating: "low", upper: 7, upper_included: false },
  ],
};
/** A score of a point a taxon. */
const POINTS = "all,taxa_richness,value,0,yes,100,yes,0,100,,,,\n";

async function scored(
  set: Partial<SetDefinitionInput>,
  thresholds: string,
  { sheet = rowsOf("A"), log = "sample_id,stratum\nA,all\n" } = {},
): Promise<readonly ScoredSample[]> {
  const batch = await smallBatch({
    sheet: `sample_id,taxon,count\n${sheet}`,
    log,
    thresholds,
    set: { index: { method: "sum" }, ratings: CLASSES, ...set },
  });
  return [...scoreBatch(batch, { seed: "1", resampling: resamplingPlan({ resamples: 400 }) })];
}
const endsOf = (one: ScoredSample | undefined) =>
  [one?.score.interval?.low, one?.score.interval?.high] as const;

function expectEnds(one: ScoredSample | undefined, ends: readonly (number | undefined)[]): void {
  const [low, high] = endsOf(one);
  expect(low).toBeCloseTo(ends[0] ?? Number.NaN, 9);
  expect(high).toBeCloseTo(ends[1] ?? Number.NaN, 9);
}

describe("the interval of an index whose metric is adjusted for a covariate", () => {
  const adjusted = { id: "taxa_richness", adjust: { covariate: "area", slope: 0.1, at: 10 } };

  it("is moved by what the covariate takes off: 0.1 x (30 - 10) = 2 taxa", async () => {
    const [plain] = await scored({}, POINTS);
    const [moved] = await scored({ metrics: [adjusted] }, POINTS, {
      log: "sample_id,stratum,area\nA,all,30\n",
    });
    expectEnds(
      moved,
      endsOf(plain).map((end) => (end ?? Number.NaN) - 2),
    );
    expect(plain?.score.rating).toBe("high");
    expect(moved?.score.rating).toBe("low");
  });

  it("has no ends without the covariate, and no index either", async () => {
    const [one] = await scored({ metrics: [adjusted] }, POINTS);
    expect(one?.score.index).toBeUndefined();
    expect(endsOf(one)).toEqual([undefined, undefined]);
    expect(one?.score.interval?.ratings).toEqual([]);
  });
});

describe("the interval of an index whose limits move with a covariate", () => {
  // From 0 at a limit of 0 to 100 at one of 50 + 1 x area: with an area of 50 a taxon is a point, with 150 half a one.
  const moving = "all,taxa_richness,value,0,yes,50,yes,0,100,area,0,1,\n";

  it("goes by the limits of each sample", async () => {
    const [plain] = await scored({}, POINTS);
    const log = "sample_id,stratum,area\nA,all,50\nB,all,150\nC,all,\n";
    const [one, half, none] = await scored({}, moving, {
      sheet: rowsOf("A") + rowsOf("B") + rowsOf("C"),
      log,
    });
    expectEnds(one, endsOf(plain));
    expect(half?.score.interval?.low).toBeCloseTo((one?.score.interval?.low ?? Number.NaN) / 2, 0);
    expect(half?.score.interval?.high).toBeLessThan(one?.score.interval?.low ?? 0);
    expect(none?.score.index).toBeUndefined();
    expect(endsOf(none)).toEqual([undefined, undefined]);
  });
});

describe("the interval of an index in percent of a reference sample", () => {
  // The reference sample has 4 taxa, the sample 8: the scores below are points of the percentage.
  const log = "sample_id,stratum,reference_sample_id\nA,all,R\nR,all,\n";
  const sheet = rowsOf("A") + rowsOf("R", 4);
  const percent = "all,taxa_richness,percent-of-reference,0,yes,1000,yes,0,1000,,,,\n";

  it("is that of the value in percent of the reference's value", async () => {
    const [plain] = await scored({}, POINTS);
    const [one] = await scored({}, percent, { sheet, log });
    // 8 taxa of 4 are 200 percent: ends of the number of taxa times 25.
    expectEnds(
      one,
      endsOf(plain).map((end) => (end ?? Number.NaN) * 25),
    );
  });

  it("lies around the percentage the other way round where the set divides the reference by the site", async () => {
    const metrics = [{ id: "taxa_richness", percent_of: "reference-of-value" as const }];
    const [one] = await scored({ metrics }, percent, { sheet, log });
    const [low = 0, high = 0] = endsOf(one);
    // 4 / 8 is 50 percent; no jar of at least 8 taxa comes to more than that, and draws lose taxa.
    expect(low).toBeGreaterThan(25);
    expect(high).toBeGreaterThanOrEqual(50);
    expect(high).toBeLessThan(100);
  });

  it("has no ends where the sample names no reference", async () => {
    const [one] = await scored({}, percent);
    expect(one?.findings.map(({ code }) => code)).toContain("no-reference-sample");
    expect(endsOf(one)).toEqual([undefined, undefined]);
  });
});

describe("the interval of a sample in a stratum", () => {
  it("has no ends where the set has no thresholds for it", async () => {
    const strata = [
      { id: "all", title: "All" },
      { id: "other", title: "Other" },
    ];
    const log = "sample_id,stratum\nA,all\nB,other\n";
    const [one, other] = await scored({ strata }, POINTS, { sheet: rowsOf("A") + rowsOf("B"), log });
    expect(endsOf(one)).toEqual([expect.any(Number), expect.any(Number)]);
    expect(other?.findings.map(({ message }) => message)).toContain(
      "taxa_richness 8 of B has no thresholds in the stratum other",
    );
    expect(endsOf(other)).toEqual([undefined, undefined]);
  });
});

describe("resamples rated by the rounded index", () => {
  it("go by the rounded number: 6.5 is rounded to 7 and high", async () => {
    // 13 points for two taxa are 6.5 for the one of this sample, in every resample.
    const thresholds = "all,taxa_richness,value,0,yes,2,yes,0,13,,,,\n";
    const sheet = "A,Baetis,30\n";
    const whole = { sheet, log: "sample_id,stratum,fraction_sorted\nA,all,1\n" };
    const index = { method: "sum" as const, round_to: 0 };
    const [rounded] = await scored({ index, ratings: { ...CLASSES, on: "rounded" } }, thresholds, whole);
    const [exact] = await scored({ index, ratings: CLASSES }, thresholds, whole);
    for (const [one, rating] of [
      [rounded, "high"],
      [exact, "low"],
    ] as const) {
      expect(one?.score.rating).toBe(rating);
      expect(one?.score.interval?.ratings).toEqual([{ rating, share: 1 }]);
    }
  });

  it("and so they do where parents are taken in another way, which is worked out exactly", async () => {
    const thresholds = "all,taxa_richness,value,0,yes,2,yes,0,13,,,,\n";
    const whole = { sheet: "A,Baetis,30\n", log: "sample_id,stratum,fraction_sorted\nA,all,1\n" };
    const index = { method: "sum" as const, round_to: 0 };
    const set = { index, parents: "remove" as const };
    const [rounded] = await scored({ ...set, ratings: { ...CLASSES, on: "rounded" } }, thresholds, whole);
    const [exact] = await scored({ ...set, ratings: CLASSES }, thresholds, whole);
    expect(rounded?.score.interval?.ratings).toEqual([{ rating: "high", share: 1 }]);
    expect(exact?.score.interval?.ratings).toEqual([{ rating: "low", share: 1 }]);
  });
});

describe("taxa that the sheet calls distinct or not", () => {
  const rows = (yes: string, no: string) =>
    `A,Baetidae,10,${no}\nA,Baetis,10,\nA,Simulium,10,${yes}\nA,Simuliidae,10,${yes}\n`;
  const ends = async (sheet: string, parents: "distinct" | "remove" = "distinct") => {
    const batch = await smallBatch({
      sheet: `sample_id,taxon,count,distinct\n${sheet}`,
      log: "sample_id,stratum,fraction_sorted\nA,all,1\n",
      set: { parents },
    });
    const [one] = scoreBatch(batch, { seed: "1", resampling: resamplingPlan({ resamples: 50 }) });
    return [one?.score.interval?.low, one?.score.interval?.high];
  };

  it("count in resamples as they count in the sample", async () => {
    // Of a jar that was counted whole every resample is the sample itself.
    expect(await ends(rows("", ""))).toEqual([2, 2]);
    expect(await ends(rows("yes", ""))).toEqual([3, 3]);
    expect(await ends(rows("yes", "no"))).toEqual([3, 3]);
    expect(await ends("A,Baetis,10,no\nA,Simulium,10,\n")).toEqual([1, 1]);
  });
});
