import { at } from "../model/at.ts";
import type { LifeStage } from "../model/life-stage.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import { compareCodePoints } from "../model/order.ts";

/** What decides the place of a pile in the draw. */
export interface PileKey {
  /** The normalised name as written on the sheet, not the accepted name: a changed taxonomy must not redraw. */
  readonly name: string;
  readonly stage: LifeStage;
}

/**
 * The order in which piles go into a draw: by name in code point order, then by life stage in the order of
 * `LIFE_STAGES`. Piles with the same name and stage keep the order in which they were given; how a draw shares
 * its animals among them depends on that order, what it takes from them together does not.
 *
 * @returns positions in `piles`, first the pile that comes first
 */
export function canonicalOrder(piles: readonly PileKey[]): number[] {
  const order = piles.map((_, position) => position);
  return order.sort((a, b) => comparePiles(at(piles, a), at(piles, b)) || a - b);
}

function comparePiles(a: PileKey, b: PileKey): number {
  return compareCodePoints(a.name, b.name) || LIFE_STAGES.indexOf(a.stage) - LIFE_STAGES.indexOf(b.stage);
}
