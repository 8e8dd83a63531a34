import type { Finding } from "../../findings/finding.ts";
import type { RowTable } from "../../model/rows.ts";
import { PILE_BITS } from "../../taxa/counted-columns.ts";
import type { GatheredPiles } from "../gathered-piles.ts";
import type { SampleDraw } from "./drawn-sample.ts";
import type { KeptTable } from "./kept-table.ts";
import { keptKind } from "./kept-table.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/**
 * Keeps what remains of a pile that is not told apart by grid.
 *
 * @param place where it stands in the columns
 */
export function keepPile(
  piles: GatheredPiles,
  place: number,
  count: number,
  table: RowTable,
  kept: KeptTable,
): void {
  // A row cannot stand for more taxa than it has animals; finds of the large/rare search stay as written.
  const numberOfTaxa = Math.max(1, Math.min(piles.kinds[place] as number, count));
  const kind = keptKind(piles.stageNumberOf(place), piles.bits[place] as number);
  kept.add(table.nameAt(piles.firstRows[place] as number), count, kind, numberOfTaxa);
}

/** Keeps what the large/rare search found, none of which is ever drawn. */
export function keepLargeRare({ piles: { columns }, rows }: SampleToDraw, kept: KeptTable): void {
  for (const place of columns.places)
    if (((columns.bits[place] as number) & PILE_BITS.find) !== 0)
      keepPile(columns, place, columns.counts[place] as number, rows.table, kept);
}

/** A sample that cannot be drawn as was asked. */
export function refusedDraw({ piles }: SampleToDraw, findings: readonly Finding[]): SampleDraw {
  return { ...notDrawn("refused", piles.counted), findings };
}

/** A sample of which nothing is written. */
export function notDrawn(status: "refused" | "held-back", counted: number | undefined): SampleDraw {
  return {
    status,
    counted,
    kept: undefined,
    fractionSorted: undefined,
    estimatedTotal: undefined,
    algorithm: "",
    findings: [],
    notes: [],
  };
}
