import { describe, expect, it } from "vitest";
import { knownJars } from "../../benchmarks/coverage/jars.ts";
import { study } from "../../benchmarks/coverage/study.ts";

/**
 * The coverage study (npm run benchmark:coverage) in small, with fixed seeds: jars whose animals are all known, 150
 * subsamples of 200 animals each. A share of 0.9 has a standard error of 0.025 over so many, hence the wide limits;
 * the numbers of the study itself stand in DEVELOPERS.md.
 */
const SIZE = { truth: 1500, samples: 150, resamples: 200 };

async function coverageOf(jar: string, stratum: string, hasGrids: boolean) {
  const found = knownJars().find((one) => one.name === jar);
  if (found === undefined) throw new Error(`no jar is called ${jar}`);
  const [result] = await study({ jar: found, n: 200, hasGrids, reference: "vennaloo-demo", stratum }, SIZE);
  return new Map(result?.coverage.map(({ measure, holds }) => [measure, holds]));
}

describe("intervals of jars that are known", () => {
  it("hold the mean over all draws about nine times in ten", async () => {
    const coverage = await coverageOf("log-series, even", "valley", false);
    expect([...coverage.keys()]).toEqual([
      "index",
      "taxa_richness",
      "ept_richness",
      "percent_dominant_taxon",
      "tolerance_index",
    ]);
    for (const holds of coverage.values()) {
      expect(holds).toBeGreaterThan(0.8);
      expect(holds).toBeLessThan(0.99);
    }
  }, 120_000);

  it("hold it when animals clump, if their grids are known, and much less often if they are not", async () => {
    const known = await coverageOf("log-series, clumped", "valley", true);
    const unknown = await coverageOf("log-series, clumped", "valley", false);
    expect(known.get("tolerance_index")).toBeGreaterThan(0.83);
    expect(known.get("percent_dominant_taxon")).toBeGreaterThan(0.78);
    // An index made of taxa and of means: neither the grids alone nor the taxa alone say how sure it is.
    expect(known.get("index")).toBeGreaterThan(0.83);
    expect(known.get("index")).toBeLessThan(0.98);
    expect(unknown.get("tolerance_index")).toBeLessThan(0.7);
    expect(unknown.get("percent_dominant_taxon")).toBeLessThan(0.6);
  }, 120_000);
});
