import type { Finding, Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { Attribute, AttributeTable } from "../model/attributes.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import { scoredInCircle } from "../taxa/attribute-lookup.ts";

/**
 * Finds taxa that are scored as another one which leads back to them: through the value of a taxon above, or because
 * tables of several attributes treat each as the other.
 *
 * @param placeOf where the set names a taxon
 */
export function checkScoreAs(
  tables: ReadonlyMap<Attribute, AttributeTable>,
  tree: TaxonTree,
  placeOf: (taxon: string) => Place,
): Finding[] {
  const findings: Finding[] = [];
  const fault = (taxon: string, message: string) => {
    findings.push(finding("bad-set", placeOf(taxon), { message }));
  };
  const all = new Map<string, string>();
  for (const [attribute, table] of tables) {
    for (const [taxon, target] of table.scoreAs) all.set(taxon, target);
    const taxon = scoredInCircle(table, tree);
    if (taxon === undefined) continue;
    const target = table.scoreAs.get(taxon) ?? "";
    const words = attribute.replaceAll("_", " ");
    fault(
      taxon,
      `${taxon} is scored as ${target}, whose ${words} comes from ${taxon} again; give ${target} a value of its own`,
    );
  }
  if (findings.length > 0) return findings;
  for (const taxon of all.keys()) {
    const target = all.get(taxon) ?? "";
    if (leadsBack(taxon, all))
      fault(taxon, `${taxon} is scored as ${target} for one attribute, and as itself again for another`);
  }
  return findings;
}

function leadsBack(taxon: string, all: ReadonlyMap<string, string>): boolean {
  let next = all.get(taxon);
  for (let steps = 0; next !== undefined && steps < all.size; steps++) {
    if (next === taxon) return true;
    next = all.get(next);
  }
  return false;
}
