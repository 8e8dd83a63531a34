import { describe, expect, it } from "vitest";
import { METRICS } from "../../src/metrics/registry.ts";
import type { Community } from "../../src/model/community.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import { attributesOf, ready } from "../helpers/metrics/build.ts";
import { ORACLE, ORACLE_SETTINGS } from "../helpers/metrics/oracle.ts";
import type { OracleRow } from "../helpers/metrics/oracle-taxa.ts";
import { VALUES } from "../helpers/metrics/oracle-taxa.ts";
import { randomCommunities } from "../helpers/metrics/random-communities.ts";
import { REAL_TREE } from "../helpers/metrics/real-tree.ts";

function rowsOf(community: Community): OracleRow[] {
  return [...community.taxa].map((taxon, i) => ({
    taxon: REAL_TREE.nameOf(taxon),
    count: community.counts[i] ?? 0,
    richness: community.richness[i] ?? 0,
  }));
}

const SAMPLES = randomCommunities(1000, "second implementation");
const ROWS = SAMPLES.map(rowsOf);
const ATTRIBUTES = attributesOf(VALUES);
const [REFERENCE] = randomCommunities(1, "reference of the second implementation");
/** Metrics whose second implementation takes derivatives or factorials by their long way. */
const ROUGH: Readonly<Record<string, number>> = {
  chao1_standard_error: 1e-5,
  expected_richness_standard_error: 1e-6,
};

describe("a second, plain implementation on 1,000 random samples", () => {
  it("has every metric of the catalogue and no other", () => {
    expect(Object.keys(ORACLE).sort()).toEqual(METRICS.map(({ id }) => id).sort());
  });

  it.each(METRICS.map((entry) => [entry.id, entry] as const))("agrees on %s", (id, entry) => {
    const metric = ready(entry, ORACLE_SETTINGS[id] ?? {}, ATTRIBUTES);
    const context = { reference: REFERENCE, fractionSorted: 0.25, areaSampledM2: 0.5 };
    const reference = REFERENCE === undefined ? [] : rowsOf(REFERENCE);
    let present = 0;
    for (const [i, community] of SAMPLES.entries()) {
      const value = valueAsNumber(metric.evaluate(community, context));
      const expected = ORACLE[id]?.(ROWS[i] ?? [], reference);
      if (expected === undefined) {
        expect(value, `sample ${i}`).toBe(undefined);
        continue;
      }
      present++;
      const close = (ROUGH[id] ?? 1e-9) * Math.max(1, Math.abs(expected));
      expect(Math.abs((value ?? Number.NaN) - expected), `sample ${i}`).toBeLessThanOrEqual(close);
    }
    expect(present).toBeGreaterThan(500);
  });
});
