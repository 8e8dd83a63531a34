import { compareCodePoints } from "../model/order.ts";
import { round } from "./axis.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { ReportRun, ReportTaxon } from "./report-data.ts";
import { shown } from "./shown.ts";

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
export function taxaSection(
  taxa: readonly ReportTaxon[],
  direction: Direction,
  label: string,
): Html | undefined {
  if (taxa.length === 0) return undefined;
  const groups = sensitiveFirst(taxa, direction);
  const hasValues = direction !== "";
  return html`<h3>Who lived there</h3>
${hasValues ? sensitiveText(groups, direction) : undefined}<table class="taxa" aria-label="${label}">
<thead><tr><th scope="col">group</th><th scope="col">taxon</th><th scope="col" class="number">animals</th><th scope="col" class="number">percent</th>${hasValues ? html`<th scope="col" class="number">tolerance</th>` : undefined}</tr></thead>
${groups.map(({ group, taxa: members }) => groupBody(group, members, hasValues))}</table>
`;
}

function sensitiveText(groups: readonly TaxaGroup[], direction: Direction): Html | undefined {
  const isLowSensitive = direction === "higher-is-tolerant";
  const named = groups
    .flatMap(({ taxa }) => taxa)
    .flatMap(({ taxon, group, tolerance }) => (tolerance === undefined ? [] : [{ taxon, group, tolerance }]))
    .sort((a, b) => (a.tolerance - b.tolerance) * (isLowSensitive ? 1 : -1))
    .slice(0, NAMED);
  if (named.length === 0) return undefined;
  return html`<p>The most sensitive animals found: ${named.map(({ taxon, group, tolerance }) => `${taxon}${group === "" ? "" : ` (${group})`} ${shown(tolerance)}`).join(", ")}. Of the tolerance values, a ${isLowSensitive ? "low" : "high"} value means an animal that bears little pollution.</p>
`;
}

function groupBody(group: string, members: readonly ReportTaxon[], hasValues: boolean): Html {
  const share = members.reduce((sum, taxon) => sum + taxon.share, 0);
  return html`<tbody>
${members.map(
  (taxon, at) =>
    html`<tr>${at === 0 ? html`<th scope="rowgroup" rowspan="${members.length}">${group}${members.length > 1 ? html` <span class="soft">${shown(round(share))} %</span>` : undefined}</th>` : undefined}<td>${taxon.taxon}</td><td class="number">${shown(taxon.count)}</td><td class="number share"><svg width="80" height="8" aria-hidden="true"><rect width="${round(taxon.share * 0.8)}" height="8" class="fill"/></svg> ${shown(taxon.share)}</td>${hasValues ? html`<td class="number">${taxon.tolerance === undefined ? "no value" : shown(taxon.tolerance)}</td>` : undefined}</tr>\n`,
)}</tbody>
`;
}
