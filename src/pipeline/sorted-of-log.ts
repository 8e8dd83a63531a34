import type { FindingSink } from "../findings/collector.ts";
import type { RowTable } from "../model/rows.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { sortedFaults } from "../quality/intake/sorted.ts";

/**
 * A doubt when the log contradicts itself about how much of a sample was sorted.
 *
 * @param own row numbers of the sample
 */
export function reportSorted(
  own: Uint32Array,
  table: RowTable,
  facts: SampleFacts | undefined,
  findings: FindingSink,
): void {
  if (facts === undefined) return;
  for (const one of sortedFaults(facts, hasLaterTray(own, table))) findings.add(one);
}

function hasLaterTray(own: Uint32Array, table: RowTable): boolean {
  if (!table.hasRare) return false;
  return own.some((row) => {
    const level = table.rareAt(row)?.trayLevel;
    return level !== undefined && level !== "1";
  });
}
