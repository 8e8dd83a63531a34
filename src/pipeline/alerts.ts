import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { at } from "../model/at.ts";
import { compareCodePoints } from "../model/order.ts";
import type { RowTable } from "../model/rows.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import { CountPolicy } from "../names/count-policy.ts";
import { unknownMessage } from "../names/name-findings.ts";
import { NameResolver } from "../names/resolve.ts";
import { WatchList } from "../names/watch-list.ts";
import type { NameSpace } from "../reference/name-space.ts";
import type { AlertsList, ListedTaxon } from "../sheets/alerts-list.ts";
import type { BatchNames } from "./batch-names.ts";
import { placeOfName } from "./sample-piles.ts";

/** A listed taxon in a sample. */
export interface Alert {
  readonly sampleId: string;
  /** Name in the tree of what was found: the listed taxon or one below it. */
  readonly found: string;
  readonly animals: number;
  readonly listed: ListedTaxon;
}

/**
 * The list of taxa to watch for, joined with the names of a batch. Names are looked up as those of a sheet are;
 * one that is no taxon is an error, because the watch would stay silent for ever.
 *
 * @param names the names of the batch, resolved
 */
export function watchFor(
  list: AlertsList,
  names: BatchNames,
  space: NameSpace,
  findings: FindingSink,
): (taxon: number) => ListedTaxon | undefined {
  const resolver = new NameResolver({ tree: space.tree, synonyms: space.synonyms });
  const byTaxon = new Map<string, ListedTaxon>();
  for (const listed of list.taxa) {
    const resolution = resolver.resolve(listed.taxon);
    if (resolution.kind === "taxon") byTaxon.set(resolution.taxon, listed);
    else if (resolution.kind === "operational") byTaxon.set(resolution.operational.name, listed);
    else {
      const place = { file: list.file, line: listed.line, column: listed.column };
      const message = space.isGroups
        ? `"${listed.taxon}" is no group of the set, whose names are groups of animals`
        : unknownMessage(listed.taxon, resolution);
      // A set of coarse groups knows few names; that is no fault of the list.
      const severity = space.isGroups ? "warning" : undefined;
      findings.add(finding("unknown-listed-taxon", place, { message, severity }));
    }
  }
  const watch = new WatchList(
    names.tree,
    [...byTaxon].map(([taxon, { kind }]) => ({ taxon, why: kind })),
  );
  return (taxon) => {
    const entry = watch.find(taxon);
    return entry === undefined ? undefined : byTaxon.get(entry.taxon);
  };
}

/**
 * The listed taxa of one sample, each once, in code point order, with a finding at its first row. Animals put
 * back and empty shells are signs of a taxon as much as those that count.
 */
export function findAlerts(
  sampleId: string,
  rows: Uint32Array,
  sources: { readonly table: RowTable; readonly names: BatchNames },
  watch: (taxon: number) => ListedTaxon | undefined,
  findings: FindingSink,
): Alert[] {
  const { table, names } = sources;
  const met = new Map<number, { row: number; animals: number; listed: ListedTaxon }>();
  for (const row of rows) {
    const taxon = names.taxa[table.nameAt(row)] as number;
    const count = table.countAt(row);
    if (taxon < 0 || count === 0) continue;
    const known = met.get(taxon);
    if (known !== undefined) {
      known.animals += count;
      continue;
    }
    const listed = watch(taxon);
    if (listed !== undefined) met.set(taxon, { row, animals: count, listed });
  }
  const alerts: Alert[] = [];
  for (const [taxon, { row, animals, listed }] of met) {
    const found = names.tree.nameOf(taxon);
    const note = listed.note === "" ? "" : `, ${listed.note}`;
    const message = `${animals} ${found} in sample ${sampleId}: ${listed.kind}${note}`;
    findings.add(finding("listed-taxon", placeOfName(table, row), { message, sampleId }));
    alerts.push({ sampleId, found, animals, listed });
  }
  return alerts.sort((a, b) => compareCodePoints(a.found, b.found));
}

/**
 * Says of animals that go back to the stream alive (native mussels) where the sheet does not say that they did.
 * It is a matter of the law and of the animals, not of the score, so no sample is flagged for it.
 */
export function reportKeptProtected(
  table: RowTable,
  names: BatchNames,
  space: NameSpace,
  findings: FindingSink,
): void {
  const policy = new CountPolicy(names.tree, space.stageRules);
  const goesBack = Uint8Array.from(names.taxa, (taxon) =>
    taxon >= 0 && policy.goesBackAlive(taxon) ? 1 : 0,
  );
  if (!goesBack.includes(1)) return;
  const met = new Map<string, { readonly row: number; animals: number }>();
  for (let row = 0; row < table.size; row++) {
    const name = table.nameAt(row);
    const count = table.countAt(row);
    if (goesBack[name] !== 1 || count === 0 || (table.flagsAt(row) & ROW_FLAGS.released) !== 0) continue;
    const written = table.stageAt(row);
    const stage = written === "unknown" ? (names.stages[name] ?? "unknown") : written;
    // An empty shell was nobody.
    if (policy.decide(names.taxa[name] as number, stage, false).policy === "exclude") continue;
    const key = `${table.sampleAt(row)} ${names.taxa[name]}`;
    const known = met.get(key);
    if (known === undefined) met.set(key, { row, animals: count });
    else known.animals += count;
  }
  for (const { row, animals } of met.values()) {
    const taxon = names.taxa[table.nameAt(row)] as number;
    const sampleId = table.samples.textOf(table.sampleAt(row));
    const why = at(names.tree.policyReasons, taxon);
    const message = `${animals} ${names.tree.nameOf(taxon)} in sample ${sampleId}: the sheet does not say that ${animals === 1 ? "it was" : "they were"} put back alive${why === "" ? "" : ` (${why})`}`;
    findings.add(finding("kept-protected", placeOfName(table, row), { message, sampleId }));
  }
}
