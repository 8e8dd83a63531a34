import { describe, expect, it } from "vitest";
import { toNumber } from "../../../src/model/exact.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import type { PublishedRow } from "../../helpers/published-table.ts";
import { probesOf } from "../../helpers/published-table.ts";
import { scorePlain, shippedSet } from "../../helpers/sets.ts";

// Plafkin et al. 1989, EPA 440/4-89-001, protocol III: all numbers from memory, the document was not open. Printed
// limits touch (60-80, 40-60); the set puts the limit into the upper class of a percentage and into the worse
// class of dominance and community loss, and says that this is its own reading.
const PERCENT: Record<string, readonly PublishedRow[]> = {
  taxa_richness: [
    ["(80,)", 6],
    ["[60,80]", 4],
    ["[40,60)", 2],
    ["[0,40)", 0],
  ],
  tolerance_index: [
    ["(85,)", 6],
    ["[70,85]", 4],
    ["[50,70)", 2],
    ["[0,50)", 0],
  ],
  scrapers_to_filterers: [
    ["(50,)", 6],
    ["[35,50]", 4],
    ["[20,35)", 2],
    ["[0,20)", 0],
  ],
  ept_to_chironomidae: [
    ["(75,)", 6],
    ["[50,75]", 4],
    ["[25,50)", 2],
    ["[0,25)", 0],
  ],
  ept_richness: [
    ["(90,)", 6],
    ["[80,90]", 4],
    ["[70,80)", 2],
    ["[0,70)", 0],
  ],
  shredders_to_total: [
    ["(50,)", 6],
    ["[35,50]", 4],
    ["[20,35)", 2],
    ["[0,20)", 0],
  ],
};
const ACTUAL: Record<string, readonly PublishedRow[]> = {
  percent_dominant_taxon: [
    ["[0,20)", 6],
    ["[20,30)", 4],
    ["[30,40]", 2],
    ["(40,)", 0],
  ],
  community_loss: [
    ["[0,0.5)", 6],
    ["[0.5,1.5)", 4],
    ["[1.5,4]", 2],
    ["(4,)", 0],
  ],
};

/** Metric values of a reference sample: every percentage is of 100, dominance and loss are at their best. */
const REFERENCE: Record<string, string> = {
  ...Object.fromEntries(Object.keys(PERCENT).map((metric) => [metric, "100"])),
  percent_dominant_taxon: "10",
  community_loss: "0",
};

/** Exact decimals of a site value that is so many percent of 100, the usual way round or the other. */
const siteValue = (metric: string, percent: string) => (metric === "tolerance_index" ? undefined : percent);

describe("reference-ratio-1989", () => {
  it("has exactly these metrics", async () => {
    const set = await shippedSet("reference-ratio-1989");
    const ids = set.definition.metrics.map((use) => use.id);
    expect([...ids].sort()).toEqual([...Object.keys(PERCENT), ...Object.keys(ACTUAL)].sort());
  });

  it.each(Object.entries(PERCENT).filter(([metric]) => siteValue(metric, "1") !== undefined))(
    "scores %s in percent of the reference just below, at and just above each limit",
    async (metric, table) => {
      const set = await shippedSet("reference-ratio-1989");
      const probes = probesOf(table);
      const found = probes.map(({ value }) => [
        value,
        scorePlain(set, { [metric]: value }, { reference: REFERENCE }).scores[metric],
      ]);
      expect(found).toEqual(probes.map(({ value, expected: score }) => [value, score]));
    },
  );

  it.each([
    // reference / site x 100: 4 / 4 is 100 percent, 4 / 5 is 80, 3.4 / 4 is exactly 85, 7 / 10 exactly 70, 2 / 4 50.
    ["4", "4", 6],
    ["4", "5", 4],
    ["3.4", "4", 4],
    ["3.400001", "4", 6],
    ["7", "10", 4],
    ["6.999999", "10", 2],
    ["2", "4", 2],
    ["1.999999", "4", 0],
  ])(
    "takes the tolerance index the other way round: reference %s, site %s scores %i",
    async (reference, site, score) => {
      const set = await shippedSet("reference-ratio-1989");
      const found = scorePlain(
        set,
        { tolerance_index: site },
        { reference: { ...REFERENCE, tolerance_index: reference } },
      );
      expect(found.scores.tolerance_index).toBe(score);
    },
  );

  it.each(Object.entries(ACTUAL))("scores %s as it is", async (metric, table) => {
    const set = await shippedSet("reference-ratio-1989");
    const probes = probesOf(table);
    const found = probes.map(({ value }) => [
      value,
      scorePlain(set, { [metric]: value }, { reference: REFERENCE }).scores[metric],
    ]);
    expect(found).toEqual(probes.map(({ value, expected: score }) => [value, score]));
  });

  it("is the total in percent of the reference sample's own total", async () => {
    const set = await shippedSet("reference-ratio-1989");
    const same = scorePlain(set, REFERENCE, { reference: REFERENCE });
    expect([same.index, same.rating]).toEqual([100, "non-impaired"]);
    // A reference sample dominated by one taxon scores 2 there and 44 in all: 22 points of a site are 50 percent.
    const dominated = { ...REFERENCE, percent_dominant_taxon: "35" };
    const site = {
      taxa_richness: "70",
      tolerance_index: "125",
      scrapers_to_filterers: "40",
      ept_to_chironomidae: "60",
      ept_richness: "75",
      shredders_to_total: "30",
      percent_dominant_taxon: "50",
      community_loss: "2",
    };
    // 4 + 4 + 4 + 4 + 2 + 2 + 0 + 2 = 22
    const found = scorePlain(set, site, { reference: dominated });
    expect(Object.values(found.scores).reduce<number>((sum, score) => sum + (score ?? 0), 0)).toBe(22);
    expect([found.index, found.rating]).toEqual([50, "moderately impaired"]);
  });

  // > 83 non-impaired, 54-79 slightly, 21-50 moderately, < 17 severely, with gaps on purpose. Totals are even and
  // the reference's is 48, so 40 is 83.3 percent, 38 79.2, 26 54.2, 24 50, 10 20.8 and 8 16.7 percent.
  it.each([
    [40, "non-impaired"],
    [38, "slightly impaired"],
    [26, "slightly impaired"],
    [24, "moderately impaired"],
    [10, "moderately impaired"],
    [8, "severely impaired"],
  ])("rates %i of 48 points", async (points, rating) => {
    const set = await shippedSet("reference-ratio-1989");
    expect(scorePlain(set, siteWith(points), { reference: REFERENCE }).rating).toBe(rating);
  });

  it("names both bands where the published bands leave a gap", async () => {
    const set = await shippedSet("reference-ratio-1989");
    // A reference with 46 points: 38 are 82.6 percent.
    const reference = { ...REFERENCE, percent_dominant_taxon: "25" };
    expect(scorePlain(set, siteWith(38), { reference }).rating).toBe(
      "between slightly impaired and non-impaired",
    );
  });

  it("gives no index without a reference sample", async () => {
    const set = await shippedSet("reference-ratio-1989");
    const found = scorePlain(set, REFERENCE);
    expect([found.index, found.rating]).toEqual([undefined, ""]);
    expect(found.findings.filter((one) => one.code === "no-score").length).toBe(6);
  });
});

/** Site values whose scores add up to so many points, 6 a metric first, against `REFERENCE`. */
function siteWith(points: number): Record<string, string> {
  let left = points;
  return Object.fromEntries(
    Object.entries({ ...PERCENT, ...ACTUAL }).map(([metric, table]) => {
      const score = Math.min(6, left);
      left -= score;
      const probe = probesOf(table).find((one) => one.expected === score && Number(one.value) > 0);
      const value = probe?.value ?? "";
      // For the metric taken the other way round the site value is 100 x 100 / percent.
      return [metric, metric === "tolerance_index" ? (10_000 / Number(value)).toFixed(9) : value];
    }),
  );
}

describe("reference samples named in the log", () => {
  const sheet = [
    "sample_id,taxon,count",
    ...[
      "Baetis,20",
      "Epeorus,20",
      "Sweltsa,10",
      "Pteronarcys,10",
      "Rhyacophila,20",
      "Hydropsyche,10",
      "Chironomidae,10",
    ].map((row) => `REF,${row}`),
    ...["Baetis,40", "Hydropsyche,40", "Chironomidae,20"].map((row) => `SITE,${row}`),
  ].join("\n");
  const score = async (log: string, content = sheet) => {
    const batch = await scoreSamples({
      sheets: [{ name: "sheet.csv", content }],
      samples: { name: "log.csv", content: log },
      reference: "reference-ratio-1989",
      attributes: ["rbp1999-northwest"],
    });
    return [...batch.samples].map(({ score: one, findings }) => ({
      id: one.sampleId,
      status: one.status,
      index: one.index === undefined ? undefined : toNumber(one.index),
      rating: one.rating,
      values: Object.fromEntries(one.metrics.map(({ id, value }) => [id, valueAsNumber(value)])),
      scores: Object.fromEntries(
        one.metrics.map(({ id, score: points }) => [id, points === undefined ? undefined : toNumber(points)]),
      ),
      said: findings.filter((found) => found.code === "no-reference-sample").map((found) => found.message),
    }));
  };

  it("compares each sample with its reference, whatever the order, and the reference with itself", async () => {
    const found = await score("sample_id,reference_sample_id\nSITE,REF\nREF,\n");
    const [reference, site] = found;
    expect([reference?.id, reference?.index, reference?.rating]).toEqual(["REF", 100, "non-impaired"]);
    // 3 of 7 taxa are 43 percent: 2. EPT 2 of 6: 33 percent: 0. Dominance 40: 2. Taxa of the reference not at the
    // site: Epeorus, Sweltsa, Pteronarcys, Rhyacophila, so 4 / 3: 4. EPT / midges 80 / 20 = 4 against 90 / 10 = 9,
    // 44 percent: 2.
    expect(site?.scores).toMatchObject({
      taxa_richness: 2,
      ept_richness: 0,
      percent_dominant_taxon: 2,
      community_loss: 4,
      ept_to_chironomidae: 2,
    });
    expect(site?.values.community_loss).toBeCloseTo(4 / 3, 10);
    expect(reference?.values.community_loss).toBe(0);
  });

  it("says why there is no comparison", async () => {
    const unnamed = await score("sample_id,reference_sample_id\nSITE,\nREF,\n");
    expect(unnamed.map((one) => [one.index, one.said])).toEqual([
      [undefined, ["sample REF names no reference sample"]],
      [undefined, ["sample SITE names no reference sample"]],
    ]);
    const absent = await score("sample_id,reference_sample_id\nSITE,NOWHERE\nREF,REF\n");
    expect(absent[1]?.said).toEqual(["sample SITE: its reference sample NOWHERE is not among the samples"]);
    expect(absent[0]?.index).toBe(100);
    const refused = await score(
      "sample_id,reference_sample_id\nSITE,REF\nREF,\n",
      `${sheet}\nREF,Nonsensia,3`,
    );
    expect(refused[1]?.said).toEqual(["sample SITE: its reference sample REF is refused"]);
    expect(refused.map((one) => one.status)).toEqual(["refused", "flagged"]);
  });
});
