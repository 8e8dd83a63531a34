import { describe, expect, it } from "vitest";
import { compareSets } from "../../src/reference/compare-sets.ts";
import type { SetFiles } from "../helpers/sets.ts";
import { row, shippedSet, usableSet } from "../helpers/sets.ts";

const BASE: SetFiles = {
  set: { metrics: [{ id: "taxa_richness" }], attributes: { tolerance: { scheme: "rbp1999-northwest" } } },
  thresholds: [row("taxa_richness", "[0,10)", 1), row("taxa_richness", "[10,)", 5)],
};

const difference = async (files: SetFiles) =>
  compareSets(await usableSet(BASE), await usableSet(files)).map((one) =>
    [one.part, one.stratum, one.name, one.change, one.first, one.second].join("|"),
  );

describe("comparing sets", () => {
  it("finds nothing between a set and itself", async () => {
    const set = await shippedSet("puget-lowland-genus-1999");
    expect(compareSets(set, set)).toEqual([]);
  });

  it("finds a limit that includes its end, a new segment and a changed score", async () => {
    expect(
      await difference({
        ...BASE,
        thresholds: [
          row("taxa_richness", "[0,10]", 1),
          row("taxa_richness", "(10,20)", 3),
          row("taxa_richness", "[20,)", 5),
        ],
      }),
    ).toEqual([
      "threshold|all|taxa_richness 1|changed|from 0 to below 10: 1|from 0 up to 10: 1",
      "threshold|all|taxa_richness 2|changed|from 10: 5|above 10 to below 20: 3",
      "threshold|all|taxa_richness 3|only-second||from 20: 5",
    ]);
  });

  it("finds changed attribute values, and none where 4.0 is written for 4", async () => {
    // Northwest column: Hydra 5, Turbellaria 4 (EPA 841-B-99-002, Appendix B; seen).
    expect(
      await difference({ ...BASE, taxa: ["Hydra,tolerance,6,,,", "Turbellaria,tolerance,4.0,,,"] }),
    ).toEqual(["value||tolerance of Hydra|changed|5|6"]);
  });

  it("finds rules, settings, classes and policies", async () => {
    const found = await difference({
      ...BASE,
      set: {
        ...(typeof BASE.set === "string" ? {} : BASE.set),
        version: "1.1.0",
        count_rule: { target: 300, least: null },
        metrics: [{ id: "taxa_richness", settings: { except: "Chironomidae" }, round_to: 1 }],
        index: { method: "mean" },
        count_policy: [{ taxon: "Mollusca", policy: "exclude", reason: "x" }],
        ratings: { on: "unrounded", classes: [{ rating: "any", lower: 0, lower_included: true }] },
      },
    });
    expect(found).toEqual([
      "about||version|changed|1.0.0|1.1.0",
      "method||count_rule.target|changed|null|300",
      "method||count policy of Mollusca|only-second||exclude",
      "metric||taxa_richness.settings.except|only-second||Chironomidae",
      "metric||taxa_richness.round_to|only-second||1",
      "index||index.method|changed|sum|mean",
      "rating||default any|changed|every value|from 0",
    ]);
  });
});
