import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { expectedRichness } from "../../../src/subsample/expected-richness.ts";

/** Source: rarefy(x, n, se = TRUE) of the R package vegan, see README.md beside this file. */
const rows: readonly { sample_id: string; count: string }[] = parse(
  readFileSync(new URL("counts.csv", import.meta.url), "utf8"),
  { columns: true },
);
const expected: readonly Record<string, number | string | null>[] = JSON.parse(
  readFileSync(new URL("expected.json", import.meta.url), "utf8"),
);

const cases = expected.flatMap((values) =>
  Object.keys(values).flatMap((key) => {
    const n = /^expected_richness_(\d+)$/.exec(key)?.[1];
    const mean = values[key];
    const error = values[`${key}_se`];
    if (n === undefined || typeof mean !== "number" || typeof error !== "number") return [];
    return [{ sample: String(values.sample_id), n: Number(n), mean, error }];
  }),
);

describe("expected richness and its standard error as an outside library gives them", () => {
  it("are compared for many samples and numbers", () => {
    expect(cases.length).toBe(66);
    expect(new Set(cases.map(({ sample }) => sample)).size).toBe(22);
  });

  it.each(cases)("$sample at $n", ({ sample, n, mean, error }) => {
    const counts = rows.filter((row) => row.sample_id === sample).map((row) => Number(row.count));
    const ours = expectedRichness(counts, n);
    // The library prints 15 digits and works with logarithms of binomials, so its own error is about 1e-12.
    expect(Math.abs(ours.expected - mean)).toBeLessThan(1e-9);
    expect(Math.abs(ours.standardError - error)).toBeLessThan(1e-9);
  });
});
