import { describe, expect, it } from "vitest";
import { toNumber } from "../../../src/model/exact.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import { probesOf } from "../../helpers/published-table.ts";
import { scorePlain, shippedSet } from "../../helpers/sets.ts";

interface GroupRow {
  readonly name: string;
  readonly count: number;
  readonly kinds: number;
}

/** Scores one sheet of groups, as a user's file. */
async function scoreGroups(reference: string, rows: readonly GroupRow[]) {
  const lines = rows.map(({ name, count, kinds }) => `R,${name},${count},${kinds}`);
  const content = `sample_id,taxon,count,number_of_taxa\n${lines.join("\n")}\n`;
  const batch = await scoreSamples({ sheets: [{ name: "sheet.csv", content }], reference });
  const [sample] = [...batch.samples];
  if (sample === undefined) throw new Error(JSON.stringify(batch.findings));
  const { score, findings } = sample;
  return {
    index: score.index === undefined ? undefined : toNumber(score.index),
    rating: score.rating,
    status: score.status,
    animals: score.individualsScored,
    values: score.metrics.map((metric) => valueAsNumber(metric.value)),
    scores: score.metrics.map((metric) => (metric.score === undefined ? undefined : toNumber(metric.score))),
    codes: findings.map((one) => one.code),
  };
}

const groups = (...rows: readonly (readonly [string, number, number])[]): GroupRow[] =>
  rows.map(([name, count, kinds]) => ({ name, count, kinds }));

describe("pacific-streamkeepers", () => {
  // Pacific Streamkeepers Federation, Module 4 interpretation, record 55 (Nile Creek, 2013-07-17) and record 73
  // (Alexander Creek), https://streamkeepers.info/ : counts, metrics, scores and index seen.
  it("gives the published metrics, scores and index of record 55", async () => {
    const found = await scoreGroups(
      "pacific-streamkeepers",
      groups(
        ["Caddisfly", 10, 2],
        ["Mayfly", 47, 5],
        ["Stonefly", 10, 1],
        ["Cranefly larva", 1, 1],
        ["Watersnipe larva", 3, 1],
        ["Planarian", 1, 1],
        ["Water mite", 3, 1],
      ),
    );
    expect([found.animals, found.index, found.scores]).toEqual([75, 2.75, [2, 3, 4, 2]]);
    const [pti, ept, ratio, predominant] = found.values;
    expect([pti, ept]).toEqual([15, 8]);
    expect(ratio).toBeCloseTo(0.89, 2);
    expect(predominant).toBeCloseTo(0.6267, 4);
  });

  it("gives the published metrics, scores and index of record 73", async () => {
    const found = await scoreGroups(
      "pacific-streamkeepers",
      groups(
        ["Caddisfly", 274, 5],
        ["Mayfly", 262, 6],
        ["Riffle beetle", 2, 1],
        ["Stonefly", 321, 5],
        ["Aquatic beetle", 3, 1],
        ["Aquatic worm", 20, 1],
        ["Midge larva", 66, 2],
        ["Planarian", 25, 1],
        ["Water mite", 21, 2],
      ),
    );
    // Printed abundance is 994; the rows add up to 994.
    expect([found.animals, found.index, found.scores]).toEqual([994, 3.75, [3, 4, 4, 4]]);
    const [pti, ept, ratio, predominant] = found.values;
    expect([pti, ept]).toEqual([18, 16]);
    expect(ratio).toBeCloseTo(0.86, 2);
    expect(predominant).toBeCloseTo(0.3229, 4);
  });

  it("gives the published scores and index of record 131 from its metric values", async () => {
    // Record 131 (Mosquito Creek, 2015-09-27): 6 + 4 + 3 points, 4 EPT taxa, 37 of 54 animals EPT, 30 of 54
    // predominant; seen. The ratios are taken to more digits than the record prints (0.69 and 0.5556).
    const set = await shippedSet("pacific-streamkeepers");
    const { scores, index } = scorePlain(set, {
      pollution_tolerance_index: "13",
      ept_taxa: "4",
      ept_ratio: String(37 / 54),
      predominant_ratio: String(30 / 54),
    });
    expect([Object.values(scores), index]).toEqual([[2, 2, 3, 3], 2.5]);
  });

  // The interpretation sheet, seen: > 22, 17-22, 11-16, < 11; > 8, 5-8, 2-4, 0-1; ratios in quarters and fifths.
  // A record with 2 EPT taxa was scored 2. Which side a ratio at a limit belongs to is not published: the limit
  // goes to the class above it, our stated reading.
  it.each([
    [
      "pollution_tolerance_index",
      [
        ["[0,10]", 1],
        ["[11,16]", 2],
        ["[17,22]", 3],
        ["[23,)", 4],
      ],
      1,
    ],
    [
      "ept_taxa",
      [
        ["[0,1]", 1],
        ["[2,4]", 2],
        ["[5,8]", 3],
        ["[9,)", 4],
      ],
      1,
    ],
    [
      "ept_ratio",
      [
        ["[0,0.25)", 1],
        ["[0.25,0.5)", 2],
        ["[0.5,0.75)", 3],
        ["[0.75,1]", 4],
      ],
      0.0001,
    ],
    [
      "predominant_ratio",
      [
        ["[0,0.4)", 4],
        ["[0.4,0.6)", 3],
        ["[0.6,0.8)", 2],
        ["[0.8,1]", 1],
      ],
      0.0001,
    ],
  ] as const)("scores %s just below, at and just above each limit", async (metric, table, step) => {
    const set = await shippedSet("pacific-streamkeepers");
    const probes = probesOf(table, step).filter(({ value }) => Number(value) <= 1 || step === 1);
    const found = probes.map(({ value }) => [value, scorePlain(set, { [metric]: value }).scores[metric]]);
    expect(found).toEqual(probes.map(({ value, expected: score }) => [value, score]));
  });

  // Ratios printed in records of the programme with the scores they got: seen.
  it.each([
    ["0.4026", 3],
    ["0.6267", 2],
    ["0.8182", 1],
    ["0.8387", 1],
  ])("scores a predominant taxon ratio of %s as the records do", async (ratio, score) => {
    const set = await shippedSet("pacific-streamkeepers");
    expect(scorePlain(set, { predominant_ratio: ratio }).scores.predominant_ratio).toBe(score);
  });

  it("keeps an aquatic beetle and a riffle beetle, a dobsonfly and a fishfly, apart", async () => {
    const found = await scoreGroups(
      "pacific-streamkeepers",
      groups(["Aquatic beetle", 1, 1], ["Riffle beetle", 1, 1], ["Dobsonfly", 1, 1], ["Fishfly", 1, 1]),
    );
    // 2 + 3 + 3 + 2 points
    expect(found.values[0]).toBe(10);
  });

  it("refuses a name that is none of its groups and keeps a fish out of the counts", async () => {
    const unknown = await scoreGroups("pacific-streamkeepers", groups(["Mayfly", 3, 1], ["Baetis", 2, 1]));
    expect([unknown.status, unknown.codes]).toEqual(["refused", ["unknown-taxon"]]);
    const mixed = await scoreGroups("pacific-streamkeepers", groups(["Mayfly/Stonefly", 3, 1]));
    expect(mixed.status).toBe("refused");
    const fish = await scoreGroups("pacific-streamkeepers", groups(["Mayfly", 3, 1], ["fish", 2, 1]));
    expect([fish.animals, fish.values[2]]).toEqual([3, 1]);
  });

  it("has words for 1, 2, 3 and 4 and names both neighbours between them", async () => {
    const set = await shippedSet("pacific-streamkeepers");
    const rating = (pti: string, ept: string, ratio: string, predominant: string) =>
      scorePlain(set, {
        pollution_tolerance_index: pti,
        ept_taxa: ept,
        ept_ratio: ratio,
        predominant_ratio: predominant,
      }).rating;
    expect(rating("30", "20", "1", "0.1")).toBe("good");
    expect(rating("20", "6", "0.6", "0.5")).toBe("acceptable");
    expect(rating("12", "3", "0.3", "0.7")).toBe("marginal");
    expect(rating("0", "0", "0", "1")).toBe("poor");
    expect(rating("30", "20", "1", "0.5")).toBe("between acceptable and good");
  });
});

describe("three-two-one-tolerance", () => {
  it("gives the solved sample of the worksheet: 3 sensitive and 2 somewhat sensitive groups are 13, fair", async () => {
    // Classroom worksheet on the 3-2-1 index, solved sample 1: seen (mayfly, stonefly and water penny are legible;
    // the two somewhat sensitive groups are not, scud and crayfish stand for them).
    const found = await scoreGroups(
      "three-two-one-tolerance",
      groups(
        ["Mayfly", 1, 1],
        ["Stonefly", 40, 3],
        ["Water penny", 2, 1],
        ["Scud", 9, 1],
        ["Crayfish", 1, 1],
      ),
    );
    expect([found.index, found.rating]).toEqual([13, "fair"]);
  });

  // > 22 excellent, 17-22 good, 11-16 fair, <= 10 poor: worksheet and survey form of the Stream Study, University
  // of Virginia, http://people.virginia.edu/~sos-iwla/Stream-Study/Methods/FormIntro.HTML : seen.
  it.each([
    ["0", "poor"],
    ["10", "poor"],
    ["11", "fair"],
    ["16", "fair"],
    ["17", "good"],
    ["22", "good"],
    ["23", "excellent"],
    ["41", "excellent"],
  ])("rates %s points as %s", async (points, rating) => {
    const set = await shippedSet("three-two-one-tolerance");
    expect(scorePlain(set, { pollution_tolerance_index: points }).rating).toBe(rating);
  });

  it("does not look at how many animals there are, nor at groups without points", async () => {
    const few = await scoreGroups("three-two-one-tolerance", groups(["Mayfly", 1, 1], ["Leech", 1, 1]));
    const many = await scoreGroups(
      "three-two-one-tolerance",
      groups(["Mayfly", 900, 7], ["Leech", 2, 1], ["Water mite", 50, 2]),
    );
    expect([few.index, many.index]).toEqual([4, 4]);
  });
});
