import type { ExchangeRecord } from "../exchange/exchange-sample.ts";
import { at } from "../model/at.ts";
import { compareCodePoints } from "../model/order.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import type { Rank } from "../model/taxon-tree.ts";
import type { Gathered } from "./prepare-sample.ts";
import type { Batch } from "./score-batch.ts";

const LINEAGE: readonly Rank[] = ["kingdom", "phylum", "class", "order", "family", "genus"];

/** A record while rows are added to it. */
interface Gathering {
  readonly order: string;
  readonly record: Omit<ExchangeRecord, "count" | "written" | "doubts" | "identifiedBy" | "identifiedOn">;
  count: number;
  readonly written: Set<string>;
  readonly doubts: Set<string>;
  readonly identifiedBy: Set<string>;
  readonly identifiedOn: Set<string>;
}

/**
 * The animals of a sample as they were identified, before any draw: rows of one name, stage, part of the work and
 * fate summed (jars, grids, sheets), by name. Rows without animals are left out.
 */
export function exchangeRecords(batch: Batch, { rows, piles }: Gathered): ExchangeRecord[] {
  const { table, names } = batch;
  const leftOut = new Map(piles.leftOut.map((one) => [one.row, one]));
  const found = new Map<string, Gathering>();
  for (const row of rows) {
    const name = table.nameAt(row);
    const taxon = names.taxa[name] as number;
    const count = table.countAt(row);
    if (taxon < 0 || count === 0) continue;
    const flags = table.flagsAt(row);
    const written = table.stageAt(row);
    const stage = written === "unknown" ? (names.stages[name] ?? "unknown") : written;
    const out = leftOut.get(row);
    const fate = out?.what ?? "counts";
    const largeRare = (flags & ROW_FLAGS.largeRare) !== 0;
    const isExpanded = (flags & ROW_FLAGS.expanded) !== 0;
    const key = at(names.keyNames, at(names.keys, name));
    const order = JSON.stringify([key, stage, largeRare, fate, isExpanded]);
    let gathering = found.get(order);
    if (gathering === undefined) {
      const why = out?.reason ?? "";
      gathering = {
        order,
        record: { key, ...taxonOf(batch, taxon), stage, largeRare, fate, why, isExpanded },
        count: 0,
        written: new Set(),
        doubts: new Set(),
        identifiedBy: new Set(),
        identifiedOn: new Set(),
      };
      found.set(order, gathering);
    }
    gathering.count += count;
    gathering.written.add(table.names.textOf(name));
    const resolution = names.resolutions[name];
    if (resolution !== undefined && resolution.kind !== "unknown" && resolution.warning !== undefined)
      gathering.doubts.add(resolution.warning.text);
    const rare = table.rareAt(row);
    if (rare?.identifiedBy !== undefined) gathering.identifiedBy.add(rare.identifiedBy);
    if (rare?.identifiedOn !== undefined) gathering.identifiedOn.add(rare.identifiedOn);
  }
  return [...found.values()]
    .sort((a, b) => compareCodePoints(a.order, b.order))
    .map(({ record, count, ...sets }) => ({
      ...record,
      count,
      written: sorted(sets.written),
      doubts: sorted(sets.doubts),
      identifiedBy: sorted(sets.identifiedBy),
      identifiedOn: sorted(sets.identifiedOn),
    }));
}

function taxonOf(
  { names: { tree } }: Batch,
  taxon: number,
): Pick<ExchangeRecord, "taxon" | "rank" | "operational" | "lineage"> {
  const operational = tree.operational.get(taxon)?.name ?? "";
  // A name of the bench stands for no taxon of the tree, so the exchange sees the one that holds all of it.
  const holder = operational === "" ? taxon : tree.parentOf(taxon);
  const lineage = new Map<string, string>();
  for (const rank of LINEAGE) {
    const above = tree.ancestorAt(holder, rank);
    if (above !== undefined) lineage.set(rank, tree.nameOf(above));
  }
  return { taxon: tree.nameOf(holder), rank: tree.rankOf(holder), operational, lineage };
}

function sorted(texts: ReadonlySet<string>): string[] {
  return [...texts].sort(compareCodePoints);
}
