import type { Finding } from "../../findings/finding.ts";
import type { RowTable } from "../../model/rows.ts";
import type { Pile } from "../sample-piles.ts";
import type { SampleDraw } from "./drawn-sample.ts";
import type { KeptTable } from "./kept-table.ts";
import { keptKind } from "./kept-table.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/** Keeps what remains of a pile that is not told apart by grid. */
export function keepPile(pile: Pile, count: number, table: RowTable, kept: KeptTable): void {
  // A row cannot stand for more taxa than it has animals; finds of the large/rare search stay as written.
  const numberOfTaxa = Math.max(1, Math.min(pile.numberOfTaxa, count));
  kept.add(
    table.nameAt(pile.firstRow),
    count,
    keptKind(pile.stage, pile.largeRare, pile.distinct),
    numberOfTaxa,
  );
}

/** Keeps what the large/rare search found, none of which is ever drawn. */
export function keepLargeRare({ piles, rows }: SampleToDraw, kept: KeptTable): void {
  for (const pile of piles.piles) if (pile.largeRare) keepPile(pile, pile.count, rows.table, kept);
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
