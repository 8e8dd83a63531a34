import type { Finding } from "../../findings/finding.ts";
import { PILE_BITS } from "../../taxa/counted-columns.ts";
import type { GatheredPiles } from "../gathered-piles.ts";
import type { NextDraw, SampleDraw } from "./drawn-sample.ts";
import type { KeptTable } from "./kept-table.ts";
import { keptKind } from "./kept-table.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/**
 * Keeps what remains of the piles of a sample where they are not told apart by grid. Finds of the large/rare search,
 * none of which is ever drawn, stay as they are.
 *
 * @param left animals left of each pile in canonical order
 */
export function keepPiles(piles: GatheredPiles, left: ArrayLike<number>, kept: KeptTable): void {
  const { places, counts, bits, kinds, names } = piles;
  for (let at = 0; at < places.length; at++) {
    const place = places[at] as number;
    const said = bits[place] as number;
    const isFind = (said & PILE_BITS.find) !== 0;
    const count = isFind ? (counts[place] as number) : (left[at] as number);
    if (count === 0 && !isFind) continue;
    const kind = keptKind(piles.stageNumberOf(place), said);
    // A row cannot stand for more taxa than it has animals.
    let numberOfTaxa = kinds[place] as number;
    if (numberOfTaxa > count) numberOfTaxa = Math.max(1, count);
    kept.add(names[place] as number, count, kind, numberOfTaxa);
  }
}

/** Keeps what the large/rare search found and nothing else. */
export function keepLargeRare({ piles: { columns } }: SampleToDraw, kept: KeptTable): void {
  keepPiles(columns, new Uint8Array(columns.size), kept);
}

/** A sample that cannot be drawn as was asked. */
export function refusedDraw({ piles }: SampleToDraw, findings: readonly Finding[]): SampleDraw {
  return { ...notDrawn("refused", piles.counted), findings };
}

/** A sample that has a single draw, however many were asked for. */
export function drawnOnce(draw: SampleDraw): NextDraw {
  let next: SampleDraw | undefined = draw;
  return () => {
    const given = next;
    next = undefined;
    return given;
  };
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
