import type { FindingSink } from "../findings/collector.ts";
import type { RowTable } from "../model/rows.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { uncountedJars } from "../quality/intake/jars.ts";
import { placeOfSample } from "./sample-piles.ts";

/**
 * A doubt when the rows of a sample name fewer jars than it has: a part of a sample is no sample.
 *
 * @param own row numbers of the sample
 */
export function reportUncountedJars(
  sampleId: string,
  own: Uint32Array,
  table: RowTable,
  facts: SampleFacts | undefined,
  findings: FindingSink,
): void {
  if (!table.hasRare) return;
  const jars = jarsOf(own, table);
  if (jars === undefined) return;
  const lacking = uncountedJars(sampleId, jars, facts, placeOfSample(table, own));
  if (lacking !== undefined) findings.add(lacking);
}

/** The jars that the rows name; undefined when a row names none, since it may be of any. */
function jarsOf(own: Uint32Array, table: RowTable): ReadonlySet<string> | undefined {
  const jars = new Set<string>();
  for (const row of own) {
    const jar = table.rareAt(row)?.container;
    if (jar === undefined) return undefined;
    jars.add(jar);
  }
  return jars;
}
