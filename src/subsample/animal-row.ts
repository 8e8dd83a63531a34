import type { Places } from "./random-places.ts";

/**
 * The animals of a sample in a row, pile after pile: at the place of each animal stands the number of its pile.
 */
export type AnimalRow = Uint16Array | Uint32Array;

/** Makes a row for so many piles and animals; nothing is laid out in it yet. */
export function makeRow(piles: number, animals: number): AnimalRow {
  return piles <= 65_536 ? new Uint16Array(animals) : new Uint32Array(animals);
}

/** Lays the animals out in a row that is long enough. */
export function layOut(counts: ArrayLike<number>, row: AnimalRow): void {
  let at = 0;
  for (let pile = 0; pile < counts.length; pile++)
    for (const end = at + (counts[pile] as number); at < end; at++) row[at] = pile;
}

/**
 * Carries out a draw: at each step the animal at the given place is taken, and the first animal not yet passed
 * moves into its place.
 *
 * @param row is changed
 * @param places as `randomPlaces` makes them
 * @param target number of steps
 * @param left zeros; becomes the animals taken of each pile
 */
export function takeAnimals(row: AnimalRow, places: Places, target: number, left: number[]): void {
  for (let at = 0; at < target; at++) {
    const from = places[at] as number;
    const pile = row[from] as number;
    left[pile] = (left[pile] as number) + 1;
    row[from] = row[at] as number;
  }
}

/**
 * The same without a row in memory: only the places that the draw has touched are remembered, so it is as large
 * as the draw, however large the sample.
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
