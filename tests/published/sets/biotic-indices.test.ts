import { describe, expect, it } from "vitest";
import { toNumber } from "../../../src/model/exact.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import { chooseRatings, classTables } from "../../../src/reference/choose-ratings.ts";
import { scorePlain, shippedSet } from "../../helpers/sets.ts";

/** Scores one sheet of taxa. */
async function scoreSheet(reference: string, rows: readonly (readonly [string, number])[], classes?: string) {
  const content = `sample_id,taxon,count\n${rows.map(([taxon, count]) => `S,${taxon},${count}`).join("\n")}\n`;
  const batch = await scoreSamples({
    sheets: [{ name: "sheet.csv", content }],
    reference,
    ...(classes === undefined ? {} : { classes }),
  });
  const [sample] = [...batch.samples];
  if (sample === undefined) throw new Error(JSON.stringify(batch.findings));
  const { score, findings } = sample;
  return {
    index: score.index === undefined ? undefined : toNumber(score.index),
    rating: score.rating,
    flags: score.flags,
    values: Object.fromEntries(score.metrics.map(({ id, value }) => [id, valueAsNumber(value)])),
    said: findings.map(({ code, message }) => `${code} ${message}`),
  };
}

describe("hilsenhoff-biotic-index-1987", () => {
  // Hilsenhoff 1987, Great Lakes Entomologist 20: 31-39. Limits to 6.50 seen in pages that quote the table
  // (https://en.wikipedia.org/wiki/Hilsenhoff_Biotic_Index); 7.50, 8.50 and 10.00 from memory. Printed to two
  // decimals, so the exact mean is rounded to two before it is classed.
  it.each([
    ["0", 0, "excellent"],
    ["3.5", 3.5, "excellent"],
    ["3.5049", 3.5, "excellent"],
    ["3.505", 3.51, "very good"],
    ["4.5", 4.5, "very good"],
    ["4.51", 4.51, "good"],
    ["5.5", 5.5, "good"],
    ["5.51", 5.51, "fair"],
    ["6.5", 6.5, "fair"],
    ["6.51", 6.51, "fairly poor"],
    ["7.5", 7.5, "fairly poor"],
    ["7.51", 7.51, "poor"],
    ["8.5", 8.5, "poor"],
    ["8.51", 8.51, "very poor"],
    ["10", 10, "very poor"],
  ])("classes a mean of %s", async (mean, index, rating) => {
    const set = await shippedSet("hilsenhoff-biotic-index-1987");
    const found = scorePlain(set, { biotic_index: mean });
    expect([found.index, found.rating]).toEqual([index, rating]);
  });

  it("calls 3.60 very good where the family-level index calls it excellent", async () => {
    const species = scorePlain(await shippedSet("hilsenhoff-biotic-index-1987"), { biotic_index: "3.6" });
    const family = scorePlain(await shippedSet("hilsenhoff-family-1988"), { family_biotic_index: "3.6" });
    expect([species.rating, family.rating]).toEqual(["very good", "excellent"]);
  });

  it("is the mean over arthropods with a value, and says what share had one", async () => {
    // Upper Midwest column of EPA 841-B-99-002, Appendix B (seen): Hyalella azteca 8, Caecidotea 8.
    const found = await scoreSheet("hilsenhoff-biotic-index-1987", [
      ["Hyalella azteca", 60],
      ["Caecidotea", 60],
      ["Tubifex", 400],
    ]);
    expect([found.index, found.rating, found.values.biotic_index_10_max]).toEqual([8, "poor", 8]);
    expect(found.said).toContain("value-share 100 percent of the animals of S have a tolerance value");
  });

  it("caps each taxon at 10 animals in the form of 1998", async () => {
    // Hilsenhoff 1998, abstract (seen): at most 10 of each taxon. Values of the same column (seen): Ameletus
    // lineatus 0, Hyalella azteca 8. (2 x 0 + 10 x 8) / 12 against (2 x 0 + 90 x 8) / 92.
    const found = await scoreSheet("hilsenhoff-biotic-index-1987", [
      ["Ameletus lineatus", 2],
      ["Hyalella azteca", 90],
    ]);
    expect(found.values.biotic_index).toBeCloseTo(720 / 92, 10);
    expect(found.values.biotic_index_10_max).toBeCloseTo(80 / 12, 10);
    expect(found.flags).toEqual(["few-animals"]);
  });
});

describe("bmwp-aspt-1983", () => {
  // Scores seen on a copy of the encyclopaedia table: Heptageniidae 10, Leuctridae 10, Caenidae 7, Gammaridae 6,
  // Elmidae 5; from memory: Baetidae 4, Asellidae 3, Chironomidae 2, Oligochaeta 1.
  const RIVER = [
    ["Heptageniidae", 12],
    ["Leuctridae", 1],
    ["Caenidae", 3],
    ["Gammarus", 40],
    ["Elmidae", 2],
    ["Baetis", 70],
    ["Baetidae", 5],
    ["Asellidae", 9],
    ["Chironomidae", 200],
    ["Tubificidae", 6],
    ["Lumbriculidae", 4],
  ] as const;

  it("sums each family once, whatever its numbers, and counts scoring families only", async () => {
    // 10 + 10 + 7 + 6 + 5 + 4 + 3 + 2 + 1 = 48 over 9 families: 5.33. Only scoring families are counted: River
    // Habitat Survey (United Kingdom), page on the BMWP score, NTAXA and ASPT (seen). Worms are one class with the score 1.
    const found = await scoreSheet("bmwp-aspt-1983", [...RIVER, ["Hydrachnidia", 30]]);
    expect(found.values).toEqual({ bmwp_score: 48, scoring_families: 9, average_score_per_taxon: 5.3 });
    expect([found.index, found.rating]).toEqual([48, "poor"]);
  });

  it("rates the average score when its table is chosen", async () => {
    const found = await scoreSheet("bmwp-aspt-1983", RIVER, "aspt-2021");
    expect([found.index, found.rating]).toEqual([5.3, "good"]);
  });

  it("offers three class tables", async () => {
    const tables = classTables(await shippedSet("bmwp-aspt-1983"));
    expect(tables.map(({ id }) => id)).toEqual(["bmwp-2021", "aspt-2021", "bmwp-widely-quoted"]);
  });

  // SmartRivers classes of 2021 in the Freshwater Biology and Ecology Handbook: seen.
  it.each([
    ["85", "excellent"],
    ["84", "good"],
    ["70", "good"],
    ["69", "fair"],
    ["50", "fair"],
    ["49", "poor"],
    ["15", "poor"],
    ["14", "seriously polluted"],
    ["0", "seriously polluted"],
  ])("rates a sum of %s as %s by the classes of 2021", async (sum, rating) => {
    const set = await shippedSet("bmwp-aspt-1983");
    expect(scorePlain(set, { bmwp_score: sum }).rating).toBe(rating);
  });

  it.each([
    ["6", "excellent"],
    ["5.95", "excellent"],
    ["5.94", "good"],
    ["5", "good"],
    ["4.94", "fair"],
    ["4.2", "fair"],
    ["4.15", "fair"],
    ["4.14", "poor"],
    ["3", "poor"],
    ["2.94", "seriously polluted"],
  ])("rates an average of %s as %s by the classes of 2021, on one decimal", async (average, rating) => {
    const set = chooseRatings(await shippedSet("bmwp-aspt-1983"), "aspt-2021");
    expect(scorePlain(set, { average_score_per_taxon: average }).rating).toBe(rating);
  });

  // Widely quoted classes, seen in a summary; the worst class from memory.
  it.each([
    ["101", "very good"],
    ["100", "good"],
    ["71", "good"],
    ["70", "moderate"],
    ["41", "moderate"],
    ["40", "poor"],
    ["11", "poor"],
    ["10", "very poor"],
    ["0", "very poor"],
  ])("rates a sum of %s as %s by the widely quoted classes", async (sum, rating) => {
    const set = chooseRatings(await shippedSet("bmwp-aspt-1983"), "bmwp-widely-quoted");
    expect(scorePlain(set, { bmwp_score: sum }).rating).toBe(rating);
  });

  it("rates a sum of 90 by both tables, which disagree", async () => {
    const set = await shippedSet("bmwp-aspt-1983");
    const quoted = chooseRatings(set, "bmwp-widely-quoted");
    expect([set, quoted].map((one) => scorePlain(one, { bmwp_score: "90" }).rating)).toEqual([
      "excellent",
      "good",
    ]);
  });
});

describe("percent-model-affinity-1992", () => {
  // Model of Novak and Bode 1992 (from memory): 40 % mayflies, 5 stoneflies, 10 caddisflies, 10 beetles, 20 midges,
  // 5 worms, 10 others. Seven groups and percentage similarity: seen in the abstract.
  const MODEL = [
    ["Baetis", 40],
    ["Perlidae", 5],
    ["Hydropsyche", 10],
    ["Optioservus", 10],
    ["Chironomidae", 20],
    ["Tubificidae", 5],
    ["Gammarus", 10],
  ] as const;

  it("is 100 for the model itself", async () => {
    const found = await scoreSheet("percent-model-affinity-1992", MODEL);
    expect([found.index, found.rating]).toEqual([100, "non-impacted"]);
  });

  it("is 100 less half the sum of the differences", async () => {
    // 60 midges, 20 worms, 20 mayflies: 100 - (20 + 5 + 10 + 10 + 40 + 15 + 10) / 2 = 45 = 20 + 20 + 5.
    const found = await scoreSheet("percent-model-affinity-1992", [
      ["Chironomidae", 60],
      ["Tubificidae", 20],
      ["Baetis", 20],
    ]);
    expect([found.index, found.rating]).toEqual([45, "moderately impacted"]);
  });

  // Borders 64 / 49 / 34: from memory.
  it.each([
    ["65", "non-impacted"],
    ["64.5", "non-impacted"],
    ["64.4", "slightly impacted"],
    ["50", "slightly impacted"],
    ["49", "moderately impacted"],
    ["35", "moderately impacted"],
    ["34", "severely impacted"],
    ["0", "severely impacted"],
  ])("rates %s as %s", async (value, rating) => {
    const set = await shippedSet("percent-model-affinity-1992");
    expect(scorePlain(set, { percent_model_affinity: value }).rating).toBe(rating);
  });
});
