import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { setDefinitionSchema } from "../../src/model/reference-set.ts";
import { csvRows, demoRows } from "./demo-files.ts";

const FOLDER = new URL("../../reference-tables/sets/vennaloo-demo/", import.meta.url);
const SET = setDefinitionSchema.parse(JSON.parse(readFileSync(new URL("set.json", FOLDER), "utf8")));
const THRESHOLDS = csvRows(readFileSync(new URL("thresholds.csv", FOLDER), "utf8"));

describe("the demo set", () => {
  it("owns up to being invented, in its title too", () => {
    expect(SET.verification).toBe("invented");
    expect(SET.title).toContain("invented");
  });

  it("asks for what the demo teaches", () => {
    expect(SET.level).toEqual({
      rank: "genus",
      exceptions: [
        { taxon: "Chironomidae", rank: "family" },
        { taxon: "Oligochaeta", rank: "subclass" },
      ],
    });
    expect([SET.count_rule.target, SET.count_rule.least, SET.count_rule.below_least]).toEqual([
      200,
      100,
      "flag",
    ]);
    expect([SET.parents, SET.large_rare, SET.without_value_limit_percent]).toEqual([
      "distinct",
      "richness",
      20,
    ]);
  });

  it("has limits for each metric in each of the three regions of the log, and no others", () => {
    const strata = SET.strata.map((stratum) => stratum.id);
    expect([...new Set(demoRows("sample-log.csv").map((row) => row.stratum))].sort()).toEqual(
      [...strata].sort(),
    );
    const wanted = strata.flatMap((stratum) => SET.metrics.map((metric) => `${stratum} ${metric.id}`));
    expect([...new Set(THRESHOLDS.map((row) => `${row.stratum} ${row.metric}`))].sort()).toEqual(
      wanted.sort(),
    );
  });

  it("scores from 0 to 10 along a line, or in steps that meet with every limit on one side", () => {
    for (const stratum of ["upland", "valley"]) {
      const lines = THRESHOLDS.filter((row) => row.stratum === stratum);
      expect(lines).toHaveLength(4);
      for (const row of lines) expect([row.score_at_lower, row.score_at_upper].sort()).toEqual(["0", "10"]);
    }
    for (const metric of SET.metrics) {
      const steps = THRESHOLDS.filter((row) => row.stratum === "lowland" && row.metric === metric.id);
      expect(steps.map((row) => row.score_at_lower).sort()).toEqual(["0", "10", "5"]);
      expect(steps.map((row) => row.score_at_lower)).toEqual(steps.map((row) => row.score_at_upper));
      expect([steps[0]?.lower, steps[2]?.upper]).toEqual(["", ""]);
      for (const [below, above] of [
        [steps[0], steps[1]],
        [steps[1], steps[2]],
      ] as const) {
        expect(below?.upper).toBe(above?.lower);
        expect([below?.upper_included, above?.lower_included].sort()).toEqual(["no", "yes"]);
      }
    }
  });

  it("falls with tolerance and dominance and rises with richness", () => {
    for (const row of THRESHOLDS.filter((one) => one.stratum !== "lowland")) {
      const rises = row.metric === "taxa_richness" || row.metric === "ept_richness";
      expect(row.score_at_upper, `${row.stratum} ${row.metric}`).toBe(rises ? "10" : "0");
    }
  });

  it("has five classes that cover 0 to 100 without gap or overlap", () => {
    const classes = SET.ratings.classes;
    expect(classes.map((one) => one.rating)).toEqual(["excellent", "good", "fair", "poor", "very poor"]);
    expect([classes[0]?.upper, classes[0]?.upper_included]).toEqual([100, true]);
    expect([classes[4]?.lower, classes[4]?.lower_included]).toEqual([0, true]);
    for (let i = 1; i < classes.length; i++) {
      expect([classes[i]?.upper, classes[i]?.upper_included]).toEqual([classes[i - 1]?.lower, false]);
      expect(classes[i - 1]?.lower_included).toBe(true);
    }
    expect([SET.ratings.on, SET.index.round_to]).toEqual(["rounded", 1]);
  });
});
