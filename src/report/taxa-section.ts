import { compareCodePoints } from "../model/order.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { shown } from "./index-scale.ts";
import type { ReportRun, ReportTaxon } from "./report-data.ts";

/** Taxa that the first sentence names. */
const NAMED = 5;

type Direction = ReportRun["set"]["tolerance"];

/** A group of taxa: "mayflies". */
export interface TaxaGroup {
  readonly group: string;
  readonly taxa: readonly ReportTaxon[];
}

/**
 * The taxa by group, the sensitive ones first: groups by their most sensitive taxon, taxa by tolerance, then by
 * name. Taxa without a value come last.
 */
export function sensitiveFirst(taxa: readonly ReportTaxon[], direction: Direction): TaxaGroup[] {
  const rank = ({ tolerance }: ReportTaxon) =>
    tolerance === undefined || direction === ""
      ? Number.MAX_VALUE
      : direction === "higher-is-tolerant"
        ? tolerance
        : -tolerance;
  const sorted = [...taxa].sort((a, b) => {
    const [x, y] = [rank(a), rank(b)];
    return (x === y ? 0 : x < y ? -1 : 1) || compareCodePoints(a.taxon, b.taxon);
  });
  const groups = new Map<string, ReportTaxon[]>();
  for (const taxon of sorted) {
    const group = taxon.group === "" ? "other animals" : taxon.group;
    const known = groups.get(group);
    if (known === undefined) groups.set(group, [taxon]);
    else known.push(taxon);
  }
  return [...groups].map(([group, members]) => ({ group, taxa: members }));
}

/** Who lived there: taxa by group with count, share and tolerance. */
export function taxaSection(taxa: readonly ReportTaxon[], direction: Direction): Html | undefined {
  if (taxa.length === 0) return undefined;
  const groups = sensitiveFirst(taxa, direction);
  const hasValues = direction !== "";
  const named = hasValues
    ? groups
        .flatMap(({ taxa: members }) => members)
        .filter(({ tolerance }) => tolerance !== undefined)
        .sort(
          (a, b) => ((a.tolerance ?? 0) - (b.tolerance ?? 0)) * (direction === "higher-is-tolerant" ? 1 : -1),
        )
        .slice(0, NAMED)
    : [];
  const way =
    direction === "higher-is-tolerant"
      ? "a low value means an animal that bears little pollution"
      : "a high value means an animal that bears little pollution";
  return html`<h3>Who lived there</h3>
${named.length === 0 ? undefined : html`<p>The most sensitive animals found: ${named.map(({ taxon, group, tolerance }) => `${taxon}${group === "" ? "" : ` (${group})`} ${shown(tolerance ?? 0)}`).join(", ")}. Of the tolerance values, ${way}.</p>\n`}<div class="wide" tabindex="0" role="region" aria-label="Taxa"><table aria-label="Taxa by group">
<thead><tr><th scope="col">group</th><th scope="col">taxon</th><th scope="col" class="number">animals</th><th scope="col" class="number">percent</th>${hasValues ? html`<th scope="col" class="number">tolerance</th>` : undefined}</tr></thead>
<tbody>
${groups.map(({ group, taxa: members }) =>
  members.map(
    ({ taxon, count, share, tolerance }, at) =>
      html`<tr>${at === 0 ? html`<th scope="rowgroup" rowspan="${members.length}">${group}</th>` : undefined}<td>${taxon}</td><td class="number">${shown(count)}</td><td class="number">${shown(share)}</td>${hasValues ? html`<td class="number">${tolerance === undefined ? "no value" : shown(tolerance)}</td>` : undefined}</tr>\n`,
  ),
)}</tbody></table></div>
`;
}
