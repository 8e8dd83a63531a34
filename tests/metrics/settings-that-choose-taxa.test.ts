import { describe, expect, it } from "vitest";
import type { Contribution } from "../../src/metrics/define.ts";
import { prepareMetric } from "../../src/metrics/prepare.ts";
import { METRICS } from "../../src/metrics/registry.ts";
import { takesFilters } from "../../src/metrics/setting-list.ts";
import { attributesOf, communityOf, type SheetEntry } from "../helpers/metrics/build.ts";
import { ORACLE_SETTINGS } from "../helpers/metrics/oracle.ts";
import { VALUES } from "../helpers/metrics/oracle-taxa.ts";
import { POOL } from "../helpers/metrics/random-communities.ts";
import { REAL_TREE } from "../helpers/metrics/real-tree.ts";

const ATTRIBUTES = attributesOf(VALUES);
const COMMUNITY = communityOf(
  [...POOL, "Corixidae", "Gerris", "Notonecta"].map((taxon, i): SheetEntry => [taxon, 1 + (i % 7)]),
);

/** The taxa that a metric counts under further settings; undefined when it cannot be prepared with them. */
function countedOf(id: string, more: Record<string, unknown>): readonly Contribution[] | undefined {
  const entry = METRICS.find((one) => one.id === id);
  if (entry === undefined) throw new Error(`no metric ${id}`);
  const settings = { ...ORACLE_SETTINGS[id], ...more };
  const prepared = prepareMetric(entry, settings, { tree: REAL_TREE, attributes: ATTRIBUTES });
  if ("problems" in prepared) return undefined;
  const context = { reference: COMMUNITY, fractionSorted: 0.5, areaSampledM2: 1 };
  return prepared.metric.contributions(COMMUNITY, context).filter(({ counted }) => counted);
}

const taking = () => METRICS.filter((entry) => takesFilters(entry.settings)).map(({ id }) => id);

function lineOf({ taxon }: Contribution): string[] {
  return REAL_TREE.lineage(taxon).map((above) => REAL_TREE.nameOf(above));
}

describe("settings that choose taxa", () => {
  it.each(METRICS.map(({ id }) => id))("are kept by %s, when it takes them", (id) => {
    if (!taking().includes(id)) return;
    const all = countedOf(id, {}) ?? [];
    expect(all.length).toBeGreaterThan(0);
    const one = REAL_TREE.nameOf(all.at(-1)?.taxon ?? -1);
    // A metric of which the taxon is all there is may refuse to leave it out, or to look at nothing else.
    for (const left of countedOf(id, { except: one }) ?? []) expect(lineOf(left)).not.toContain(one);
    for (const left of countedOf(id, { within: one }) ?? []) expect(lineOf(left)).toContain(one);
  });

  it("are seldom refused, so that the above says something", () => {
    const refused = taking().filter((id) => {
      const one = REAL_TREE.nameOf(countedOf(id, {})?.at(-1)?.taxon ?? -1);
      return countedOf(id, { except: one }) === undefined;
    });
    expect(refused.length).toBeLessThan(taking().length / 10);
  });
});
