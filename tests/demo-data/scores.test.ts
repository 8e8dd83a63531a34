import { beforeAll, describe, expect, it } from "vitest";
import { demoRows } from "./demo-files.ts";
import { type ResultRow, scoreDemo } from "./score-demo.ts";

let results: ReadonlyMap<string, ResultRow> = new Map();

beforeAll(() => {
  results = scoreDemo();
});

const column = (name: string, ...sampleIds: readonly string[]) =>
  sampleIds.map((sampleId) => results.get(sampleId)?.[name]);

describe("the scored demo batch", () => {
  it("holds every sample of the log once, in the order of the sheet, each with an index", () => {
    expect([...results.keys()]).toEqual(demoRows("sample-log.csv").map((row) => row.sample_id));
    for (const [sampleId, row] of results) {
      expect(typeof row.index, sampleId).toBe("number");
      expect(row.status, sampleId).toBe(sampleId === "U4-2023-06" ? "flagged" : "scored");
    }
  });

  it("shows all five ratings", () => {
    expect([...new Set([...results.values()].map((row) => row.rating))].sort()).toEqual([
      "excellent",
      "fair",
      "good",
      "poor",
      "very poor",
    ]);
  });

  it("shows Quorrimay Creek fall from 2023 to 2024, and Skirrowel Run from visit to visit", () => {
    expect(column("rating", "V3-2023-05", "V3-2023-09", "V3-2024-09")).toEqual(["good", "excellent", "poor"]);
    expect(column("rating", "U4-2023-06", "U4-2023-09", "U4-2024-09")).toEqual(["good", "poor", "very poor"]);
  });

  it("draws 200 animals of every larger sample and keeps the smaller ones whole", () => {
    for (const [sampleId, row] of results) {
      expect(row.individuals_scored, sampleId).toBe(Math.min(200, Number(row.individuals_counted)));
    }
    expect(column("individuals_counted", "U4-2023-06", "V4-2023-05", "L3-2023-05", "L3-2023-09")).toEqual([
      85, 187, 151, 897,
    ]);
  });

  it("leaves fish, fireflies, cast skins and mussels out of the counts, and keeps pupae", () => {
    const onSheet = (sampleId: string) =>
      demoRows("bench-sheet.csv")
        .filter((row) => row.sample_id === sampleId)
        .reduce((sum, row) => sum + Number(row.count), 0);
    // 3 cast skins; 2 fireflies and 1 sculpin; 3 mussels; nothing of the larvae and pupae.
    for (const [sampleId, left] of [
      ["U1-2023-06", 3],
      ["L2-2023-09", 3],
      ["L1-2024-09", 3],
      ["L1-2023-05", 0],
    ] as const) {
      expect(column("individuals_counted", sampleId), sampleId).toEqual([onSheet(sampleId) - left]);
    }
  });

  it("counts a large or rare animal as a taxon and not as an individual", () => {
    // Counted on the sheet by hand, all animals taken: U3-2024-09 holds 30 taxa besides midges, midges as one
    // family, and the hellgrammite; 151 of its 487 animals are Baetis. V2-2024-09 holds 26 taxa besides midges,
    // midges as one family, and the crayfish; 146 of its 524 animals are midges.
    const whole = scoreDemo("--target", "none");
    expect(whole.get("U3-2024-09")).toMatchObject({
      individuals_scored: 487,
      taxa_richness: 30 + 1 + 1,
      percent_dominant_taxon: expect.closeTo((151 * 100) / 487, 9),
    });
    expect(whole.get("V2-2024-09")).toMatchObject({
      individuals_scored: 524,
      taxa_richness: 26 + 1 + 1,
      percent_dominant_taxon: expect.closeTo((146 * 100) / 524, 9),
    });
  });
});
