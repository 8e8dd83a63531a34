import { LARGEST_TARGET } from "../model/largest-target.ts";
import { AnimalRow, SMALL_PILES } from "./animal-row.ts";
import { totalAnimals } from "./piles.ts";
import { randomPlaces } from "./random-places.ts";
import { Scratch } from "./scratch.ts";
import type { RandomStream } from "./stream.ts";
import { takeAnimalsSparsely, takeAtRandom } from "./take-animals.ts";

/** Samples up to this size always have a place in memory for each animal. */
const ALWAYS_DENSE = 65_536;
/** Largest sample with a place in memory for each animal, half a gigabyte. */
const LARGEST_DENSE = 2 ** 28;
/** A draw of less than one in so many animals of a large sample remembers only the places it has touched. */
const SPARSE_RATIO = 64;
const ROWS = new Scratch<AnimalRow>(
  ALWAYS_DENSE,
  (length) => new AnimalRow(SMALL_PILES, Math.max(length, 4096)),
);

/** How the animals of a draw are held in memory; the animals drawn are the same. */
export type DrawKind = "dense" | "sparse";

/**
 * Draws exactly `target` animals without replacement: every set of `target` animals is equally likely, so the
 * animals left of the piles follow the multivariate hypergeometric distribution (the fixed count on the
 * computer; its expectations are in Hurlbert SH 1971, Ecology 52:577-586).
 *
 * The animals stand in a row, pile after pile, and are put in random order from the front; the first `target` of
 * them stay. That order does not depend on the target: the draw of 100 is contained in the draw of 200 with the
 * same stream.
 *
 * @param counts animals of each pile, whole numbers, in the order of `canonicalOrder`
 * @param target animals to keep, a whole number; from the total on, everything is kept and the stream untouched
 * @param kind chosen by the sizes when left out; tests compare the two
 * @returns animals left of each pile, in the same order
 * @throws RangeError when a count or the target is not a whole number of 0 or more, or the draw would not fit
 *   into memory (more than 2^22 animals out of more than 2^28)
 */
export function drawIndividuals(
  counts: ArrayLike<number>,
  target: number,
  stream: RandomStream,
  kind?: DrawKind,
): number[] {
  const total = checkedTotal(counts, target);
  if (target >= total) return copyOf(counts);
  if ((kind ?? drawKind(total, target)) === "sparse") return drawSparsely(counts, total, target, stream);
  const left = zeros(counts.length);
  const isSmall = counts.length <= SMALL_PILES;
  const row = isSmall ? ROWS.borrow(total) : new AnimalRow(counts.length, total);
  row.layOut(counts);
  takeAtRandom(row.piles, total, target, stream, left);
  if (isSmall) ROWS.giveBack(row);
  return left;
}

function drawSparsely(
  counts: ArrayLike<number>,
  total: number,
  target: number,
  stream: RandomStream,
): number[] {
  const left = zeros(counts.length);
  const places = new Float64Array(target);
  randomPlaces(total, target, stream, places);
  takeAnimalsSparsely(counts, places, target, left);
  return left;
}

function copyOf(counts: ArrayLike<number>): number[] {
  const copy = zeros(counts.length);
  for (let pile = 0; pile < counts.length; pile++) copy[pile] = counts[pile] as number;
  return copy;
}

function zeros(length: number): number[] {
  return new Array<number>(length).fill(0);
}

function checkedTotal(counts: ArrayLike<number>, target: number): number {
  if (!Number.isSafeInteger(target) || target < 0)
    throw new RangeError(`the target ${target} is not a whole number of animals`);
  return totalAnimals(counts);
}

function drawKind(total: number, target: number): DrawKind {
  if (total <= ALWAYS_DENSE || (total <= LARGEST_DENSE && target > total / SPARSE_RATIO)) return "dense";
  if (target > LARGEST_TARGET)
    throw new RangeError(`a draw of ${target} animals out of ${total} does not fit into memory`);
  return "sparse";
}
