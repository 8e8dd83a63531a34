import { at } from "../model/at.ts";
import { totalAnimals } from "./piles.ts";

/** What stopping at a count does to the estimate of the total of one tray. */
export interface StoppingBias {
  /** Mean of the estimated total over all random orders of the grids. */
  readonly expectedEstimate: number;
  readonly trueTotal: number;
  /** By how much the estimate is too high on average, in percent of the true total. */
  readonly biasPercent: number;
}

/**
 * The mean error of `animals x grids on the tray / grids picked` when grids are picked in random order until
 * `enough` animals and `atLeast` grids are reached: exact over all orders, no simulation.
 *
 * With a fixed number of grids this estimate is right on average; stopping at a count makes it too high,
 * because a crowded grid ends the picking. The more the animals are clumped and the fewer grids are picked,
 * the more so (own derivation: the chance that k grids together hold s animals is counted over all sets of k
 * grids; whether picking stops there depends on the set before the last grid only).
 *
 * @param gridCounts animals of every grid of the tray, whole numbers, also those without
 * @param enough animals at which picking may stop
 * @param atLeast grids picked in any case
 * @throws RangeError for a tray without animals, counts that are not whole, and limits that are not whole
 *   numbers above 0
 */
export function stoppingBias(gridCounts: ArrayLike<number>, enough: number, atLeast: number): StoppingBias {
  const trueTotal = totalAnimals(gridCounts);
  const grids = gridCounts.length;
  if (trueTotal === 0) throw new RangeError("a tray without animals has no estimate to be wrong");
  if (![enough, atLeast].every((limit) => Number.isSafeInteger(limit) && limit > 0))
    throw new RangeError("the least numbers of animals and of grids are whole numbers above 0");
  const shares = shareOfSets(gridCounts, enough);
  let expected = 0;
  for (let picked = Math.min(atLeast, grids); picked <= grids; picked++)
    expected += (grids / picked) * animalsWhenStopping(shares, trueTotal, grids, picked, atLeast);
  return { expectedEstimate: expected, trueTotal, biasPercent: (100 * (expected - trueTotal)) / trueTotal };
}

/** For k grids and s animals below the limit: the share of all sets of k grids that hold s animals. */
type SetShares = readonly Float64Array[];

function shareOfSets(gridCounts: ArrayLike<number>, enough: number): SetShares {
  const grids = gridCounts.length;
  const sets = Array.from({ length: grids + 1 }, () => new Float64Array(enough));
  at(sets, 0)[0] = 1;
  for (let grid = 0; grid < grids; grid++) {
    const count = at(gridCounts, grid);
    for (let size = grid; size >= 0; size--) {
      const from = at(sets, size);
      const to = at(sets, size + 1);
      // Of the sets of size + 1 among the first grid + 1 grids, (size + 1) in (grid + 1) hold the newest one.
      const keep = (grid - size) / (grid + 1);
      const add = (size + 1) / (grid + 1);
      for (let sum = enough - 1; sum >= 0; sum--) {
        to[sum] = (to[sum] as number) * keep + (sum >= count ? (from[sum - count] as number) * add : 0);
      }
    }
  }
  return sets;
}

/** Mean over all orders of the animals picked, counted only where picking stops after exactly `picked` grids. */
function animalsWhenStopping(
  shares: SetShares,
  total: number,
  grids: number,
  picked: number,
  atLeast: number,
): number {
  const all = (total * picked) / grids;
  const stillShort = picked === grids ? 0 : animalsWhileShort(at(shares, picked));
  if (picked <= atLeast) return all - stillShort;
  // Picking goes on to this grid only where the grids before it were short of animals.
  const before = at(shares, picked - 1);
  let reached = 0;
  for (const [sum, share] of before.entries())
    reached += share * (sum + (total - sum) / (grids - picked + 1));
  return reached - stillShort;
}

function animalsWhileShort(shares: Float64Array): number {
  let animals = 0;
  for (const [sum, share] of shares.entries()) animals += share * sum;
  return animals;
}
