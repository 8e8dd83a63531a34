import type { Finding } from "../../findings/finding.ts";
import type { RowTable } from "../../model/rows.ts";
import type { GatheredPiles } from "../gathered-piles.ts";
import type { SampleDraw } from "./drawn-sample.ts";
import type { KeptTable } from "./kept-table.ts";
import { keptKind } from "./kept-table.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/** Keeps what remains of a pile that is not told apart by grid. */
export function keepPile(
  piles: GatheredPiles,
  pile: number,
  count: number,
  table: RowTable,
  kept: KeptTable,
): void {
  // A row cannot stand for more taxa than it has animals; finds of the large/rare search stay as written.
  const numberOfTaxa = Math.max(1, Math.min(piles.numberOfTaxaAt(pile), count));
  const kind = keptKind(piles.stageNumberAt(pile), piles.bitsAt(pile));
  kept.add(table.nameAt(piles.firstRowAt(pile)), count, kind, numberOfTaxa);
}

/** Keeps what the large/rare search found, none of which is ever drawn. */
export function keepLargeRare({ piles: { columns }, rows }: SampleToDraw, kept: KeptTable): void {
  for (let pile = 0; pile < columns.size; pile++)
    if (columns.isLargeRareAt(pile)) keepPile(columns, pile, columns.countAt(pile), rows.table, kept);
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
