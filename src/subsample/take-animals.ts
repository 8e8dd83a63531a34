import type { PilesInRow } from "./animal-row.ts";
import type { Places } from "./random-places.ts";
import { LARGEST_PAIRED } from "./random-places.ts";
import type { RandomStream } from "./stream.ts";

/**
 * Draws from a row in memory: at each step the animal at the place that `randomPlaces` would give for it is taken, and
 * the first animal not yet passed moves into its place. Both in one loop, since writing the places down takes as long
 * as the rest of a draw; tests hold it against the draw without a row.
 *
 * @param row is changed
 * @param total animals in the row
 * @param target steps, fewer than `total`
 * @param left zeros; becomes the animals taken of each pile
 */
export function takeAtRandom(
  row: PilesInRow,
  total: number,
  target: number,
  stream: RandomStream,
  left: number[],
): void {
  let at = 0;
  for (; at < target && total - at > LARGEST_PAIRED; at++) take(row, at, at + stream.below(total - at), left);
  while (at < target) {
    // Two steps of one random number, as in `randomPlaces`, in whole numbers of 32 bits.
    const others = total - at - 1;
    const both = stream.below((others + 1) * others);
    const first = (both / others) | 0;
    take(row, at, at + first, left);
    at++;
    if (at === target) return;
    take(row, at, at + ((both - Math.imul(first, others)) | 0), left);
    at++;
  }
}

function take(row: PilesInRow, at: number, from: number, left: number[]): void {
  const pile = row[from] as number;
  left[pile] = (left[pile] as number) + 1;
  row[from] = row[at] as number;
}

/**
 * Carries out a draw without a row in memory: at each step the animal at the given place is taken, and the first animal
 * not yet passed moves into its place. Only the places that the draw has touched are remembered, so it is as large as
 * the draw, however large the sample.
 *
 * @param places as `randomPlaces` makes them
 * @param target number of steps
 * @param left zeros; becomes the animals taken of each pile
 */
export function takeAnimalsSparsely(
  counts: ArrayLike<number>,
  places: Places,
  target: number,
  left: number[],
): void {
  const ends = endsOfPiles(counts);
  const moved = new Map<number, number>();
  for (let at = 0; at < target; at++) {
    const from = places[at] as number;
    const pile = moved.get(from) ?? pileAt(ends, from);
    left[pile] = (left[pile] as number) + 1;
    moved.set(from, moved.get(at) ?? pileAt(ends, at));
    // No later step looks at the places already passed.
    moved.delete(at);
  }
}

function endsOfPiles(counts: ArrayLike<number>): number[] {
  const ends: number[] = [];
  let end = 0;
  for (let pile = 0; pile < counts.length; pile++) {
    end += counts[pile] as number;
    ends.push(end);
  }
  return ends;
}

function pileAt(ends: readonly number[], place: number): number {
  let low = 0;
  let high = ends.length - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((ends[middle] as number) > place) high = middle;
    else low = middle + 1;
  }
  return low;
}
