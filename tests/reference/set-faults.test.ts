import { describe, expect, it } from "vitest";
import { compareSets } from "../../src/reference/compare-sets.ts";
import type { SetFiles } from "../helpers/sets.ts";
import { readWritten, row, usableSet } from "../helpers/sets.ts";

const POINTS = [row("taxa_richness", "[0,100]", 0, 100)];
/** What is said of a set, as "file:line severity message". */
async function said(files: SetFiles): Promise<readonly string[]> {
  const { findings } = await readWritten({ thresholds: POINTS, ...files });
  return findings.map(({ file, line, severity, message }) => `${file}:${line} ${severity ?? ""} ${message}`);
}

describe("faults of a set that a person edits", () => {
  it("are an id of a class table that is there twice, and a metric that the set does not have", async () => {
    const table = (id: string, metric?: string) => ({
      ...{ id, title: id, on: "unrounded" as const, classes: [{ rating: "any" }] },
      ...(metric === undefined ? {} : { metric }),
    });
    const lines = await said({
      set: { other_ratings: [table("theirs"), table("theirs"), table("default", "nothing")] },
    });
    expect(lines).toEqual([
      expect.stringMatching(/^bare\/set\.json:\d+ error .*"theirs" is there twice/),
      expect.stringMatching(/^bare\/set\.json:\d+ error .*"default" is there twice/),
      expect.stringMatching(/^bare\/set\.json:\d+ error .*the set has no metric "nothing"/),
    ]);
  });

  it("are a source without an id, and one that is there twice", async () => {
    const sources =
      "source_id,citation\nown1999,A report (invented)\n,Another (invented)\nown1999,Again (invented)\n";
    expect(await said({ sources })).toEqual([
      "bare/sources.csv:3 error a source_id is missing",
      'bare/sources.csv:4 error "own1999" is there twice',
    ]);
  });

  it("are values beyond either end of their scale, also of one with a single end", async () => {
    const taxa = ["Baetis,tolerance,11,,,", "Leuctra,tolerance,-1,,,", "Gammarus,tolerance,10,,,"];
    const list = (ends: { min?: number; max?: number }) => ({
      attributes: {
        tolerance: { own: true as const, list: "made up", direction: "higher-is-tolerant" as const, ...ends },
      },
    });
    expect(await said({ set: list({ min: 0, max: 10 }), taxa })).toEqual([
      "bare/taxa.csv:2 error the tolerance of Baetis is 11; the scale goes from 0 to 10",
      "bare/taxa.csv:3 error the tolerance of Leuctra is -1; the scale goes from 0 to 10",
    ]);
    expect(await said({ set: list({ max: 10 }), taxa })).toEqual([
      "bare/taxa.csv:2 error the tolerance of Baetis is 11; the scale goes from any to 10",
    ]);
    expect(await said({ set: list({ min: 0 }), taxa })).toEqual([
      "bare/taxa.csv:3 error the tolerance of Leuctra is -1; the scale goes from 0 to any",
    ]);
  });

  it("are gaps, said once where strata share the rows, and in which stratum where they do not", async () => {
    const strata = [
      { id: "high", title: "High" },
      { id: "low", title: "Low" },
    ];
    const gap = [row("taxa_richness", "[0,5)", 1), row("taxa_richness", "[7,20]", 3)];
    const shared = await said({ set: { strata }, thresholds: gap });
    expect(shared).toEqual([
      "bare/thresholds.csv:3 warning taxa_richness in high: what lies between 5 and 7 belongs to no class between line 2 and line 3",
    ]);
    const one = await said({ thresholds: gap });
    expect(one[0]).toContain("warning taxa_richness: what lies between 5 and 7");
  });

  it("are classes that overlap without an end, said once for all strata", async () => {
    const strata = [
      { id: "high", title: "High" },
      { id: "low", title: "Low" },
    ];
    const classes = [
      { rating: "good", lower: 5, lower_included: true },
      { rating: "better", lower: 7, lower_included: true },
    ];
    const lines = await said({ set: { strata, ratings: { on: "unrounded", classes } } });
    expect(lines).toEqual([expect.stringMatching(/ everything from 7 belongs to both "good" and "better"$/)]);
  });
});

describe("sets compared", () => {
  it("say what only the first has, and policies of a life stage apart from those of the taxon", async () => {
    const reason = "not in the method";
    const first = await usableSet({
      set: {
        count_policy: [
          { taxon: "Cambaridae", policy: "exclude", reason },
          { taxon: "Chironomidae", life_stage: "pupa", policy: "exclude", reason },
        ],
      },
      thresholds: [...POINTS],
    });
    const second = await usableSet({ thresholds: POINTS });
    const gone = compareSets(first, second).map(({ name, change, second: other }) => [name, change, other]);
    expect(gone).toEqual([
      ["count policy of Cambaridae", "only-first", ""],
      ["count policy of Chironomidae (pupa)", "only-first", ""],
    ]);
    expect(compareSets(second, first).map(({ change }) => change)).toEqual(["only-second", "only-second"]);
  });
});
