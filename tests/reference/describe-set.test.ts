import { describe, expect, it } from "vitest";
import type { SetFact } from "../../src/reference/describe-set.ts";
import { describeSet } from "../../src/reference/describe-set.ts";
import type { SetFiles } from "../helpers/sets.ts";
import { row, SHIPPED, usableSet } from "../helpers/sets.ts";

async function factsOf(files: SetFiles): Promise<readonly SetFact[]> {
  return describeSet(await usableSet(files), SHIPPED.sources);
}
const saidOf = (facts: readonly SetFact[], part: SetFact["part"], name: string) =>
  facts.filter((one) => one.part === part && one.name === name).map(({ value }) => value);

const POINTS = [row("taxa_richness", "[0,100]", 0, 100)];

describe("a set in words", () => {
  it("says how each metric is worked out and scored", async () => {
    const facts = await factsOf({
      set: {
        metrics: [
          {
            id: "kinds",
            metric: "taxa_richness",
            settings: { within: ["Plecoptera"] },
            round_to: 1,
            weight: 2,
            adjust: { covariate: "area", slope: 0.5, at: 10 },
            note: "Counted by hand.",
          },
          { id: "taxa_richness", as_published: "gap", tie_rule: "middle" },
          { id: "ept_richness", as_published: "gap", tie_rule: "above" },
        ],
        index: { method: "weighted-mean", missing_metric: "leave-out", clip_scores: false, round_to: 2 },
      },
      thresholds: [
        row("kinds", "[0,20]", 0, 10),
        ...[row("taxa_richness", "[0,5]", 1), row("taxa_richness", "[7,20]", 3)],
        ...[row("ept_richness", "[0,5]", 1), row("ept_richness", "[7,20]", 3)],
      ],
    });
    expect(saidOf(facts, "metric", "kinds")).toEqual([
      'taxa_richness; with within ["Plecoptera"]; rounded to 1 decimals; weight 2; less 0.5 x (area - 10); Counted by hand.',
    ]);
    expect(saidOf(facts, "metric", "taxa_richness")).toEqual([
      "taxa_richness; published with a gap; a value in it takes the score nearest to the middle of the scores",
    ]);
    expect(saidOf(facts, "metric", "ept_richness")[0]).toContain("takes the score of the segment above it");
    expect(saidOf(facts, "index", "method")).toEqual([
      "weighted mean of the scores; missing metrics are left out; scores are not clipped; rounded to 2 decimals",
    ]);
  });

  it("says thresholds once where all strata share them, else stratum by stratum, with what moves them", async () => {
    const strata = [
      { id: "high", title: "High", note: "above the falls" },
      { id: "low", title: "Low" },
    ];
    const moving = { covariate: "area", slopes: "0,2" };
    const facts = await factsOf({
      set: { strata, metrics: [{ id: "taxa_richness" }, { id: "ept_richness" }] },
      thresholds: [
        ...["high", "low"].map((stratum) => row("taxa_richness", "[0,10)", 0, 5, { stratum })),
        row("ept_richness", "(2,8]", 1, 5, { stratum: "high", ...moving }),
        row("ept_richness", "[1,)", 3, 3, { stratum: "low", basis: "percent-of-reference" }),
      ],
    });
    const thresholds = facts
      .filter(({ part }) => part === "threshold")
      .map(({ name, stratum, value }) => [name, stratum, value]);
    expect(thresholds).toEqual([
      ["taxa_richness", "", "from 0 to below 10: 0 to 5"],
      ["ept_richness", "high", "above 2 + 0 x covariate up to 8 + 2 x covariate (moved by area): 1 to 5"],
      ["ept_richness", "low", "from 1 percent of reference: 3"],
    ]);
    expect(saidOf(facts, "about", "stratum")).toEqual(["High; above the falls", "Low"]);
  });

  it("says the count rule, what counts, and how it was made", async () => {
    const facts = await factsOf({
      set: {
        count_rule: {
          target: 200,
          least: 100,
          below_least: "no-index",
          within_percent: 20,
          draw_above: "range",
        },
        count_policy: [{ taxon: "Cambaridae", policy: "exclude", reason: "not in the method" }],
        large_rare: "richness",
        season: { from: "05-01", to: "09-30" },
        based_on: { id: "old-set", version: "1.2.3", hash: "f".repeat(64) },
        index: { method: "sum", percent_of_reference: true },
        cautions: ["Do not use it."],
      },
      thresholds: POINTS,
    });
    expect(saidOf(facts, "method", "count rule")).toEqual([
      "200 animals within 20 percent, drawn only above that; at least 100, below that no index",
    ]);
    expect(saidOf(facts, "method", "exclude")).toEqual(["Cambaridae: not in the method"]);
    expect(saidOf(facts, "method", "large and rare")).toEqual(["count as taxa only"]);
    expect(saidOf(facts, "about", "season")).toEqual(["05-01 to 09-30 (month-day)"]);
    expect(saidOf(facts, "about", "based on")).toEqual([
      "old-set 1.2.3; how that was checked says nothing of what was changed since",
    ]);
    expect(saidOf(facts, "index", "method")).toEqual([
      "sum of the scores; as a percentage of the reference sample's; a missing metric leaves no index; scores are clipped to their ends",
    ]);
    expect(saidOf(facts, "caution", "caution")).toEqual(["Do not use it."]);
  });

  it("says that an index has no classes, and which further tables there are", async () => {
    const none = await factsOf({ set: { ratings: { on: "unrounded", classes: [] } }, thresholds: POINTS });
    expect(saidOf(none, "rating", "classes")).toEqual(["none are held: an index without a rating"]);
    const facts = await factsOf({
      set: {
        ratings: {
          on: "unrounded",
          title: "Ours",
          classes: [
            { rating: "good", lower: 3, lower_included: true, meaning: "as it was" },
            { rating: "poor", upper: 3, upper_included: false },
          ],
        },
        other_ratings: [{ id: "theirs", title: "Theirs", on: "unrounded", classes: [{ rating: "any" }] }],
      },
      thresholds: POINTS,
    });
    expect(saidOf(facts, "rating", "table")).toEqual(["default: Ours"]);
    expect(saidOf(facts, "rating", "another table")).toEqual(["theirs: Theirs"]);
    expect(saidOf(facts, "rating", "good")).toEqual(["from 3; as it was"]);
    expect(saidOf(facts, "rating", "poor")).toEqual(["below 3"]);
    expect(saidOf(facts, "rating", "any")).toEqual(["every value"]);
  });
});
