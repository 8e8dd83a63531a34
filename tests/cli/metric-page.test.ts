import { describe, expect, it } from "vitest";
import { METRICS } from "../../src/metrics/registry.ts";
import { runJartally } from "../helpers/run-jartally.ts";

function list(...words: readonly string[]) {
  return runJartally(["metrics", "--list", ...words]);
}

describe("metrics --list", () => {
  it("shows all of a metric: settings with what they take, and values that can be worked again", () => {
    const run = list("percent_tolerant", "--format", "table");
    expect(run.status).toBe(0);
    const settings = run.stdout.slice(run.stdout.indexOf("Settings\n"), run.stdout.indexOf("Worked values"));
    expect(settings.split("\n").find((line) => line.startsWith("  limit "))).toMatch(
      /^ {2}limit\s+the tolerance value at which taxa begin to belong to the$/,
    );
    expect(settings.replaceAll(/\s+/g, " ")).toContain("(number, required)");
    expect(settings.replaceAll(/\s+/g, " ")).toContain("(true or false, otherwise true)");
    expect(run.stdout).toContain('  {"limit":7}\n');
    // Counts with the tolerance values that the arithmetic takes.
    expect(run.stdout).toContain("riffle: Baetis 18 (5), Epeorus 6 (0), ");
    expect(run.stdout).toContain("100 x (Oligochaeta 5 + Pisidium 1) / 100 = 6");
    for (const line of run.stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(80);
  });

  it("has every metric of the catalogue, in its order", () => {
    const run = list("--format", "csv");
    expect(run.status).toBe(0);
    const ids = run.stdout
      .split("\n")
      .slice(1, -1)
      .map((line) => line.split(",")[0]);
    expect(ids).toEqual(METRICS.map(({ id }) => id));
  });

  it("names close ids for one that is not there", () => {
    const run = list("ept_taxa");
    expect(run.status).toBe(2);
    expect(run.stderr).toContain('no metric is called "ept_taxa"; close: ept_richness');
  });
});
