import type { PilesInRow } from "./animal-row.ts";
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
/** Most places that can be remembered. */
const LARGEST_SPARSE_DRAW = 2 ** 22;

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
 * @returns animals left of each pile, in the same order
 * @throws RangeError when a count or the target is not a whole number of 0 or more, or the draw would not fit
 *   into memory (more than 2^22 animals out of more than 2^28)
 */
export function drawIndividuals(counts: ArrayLike<number>, target: number, stream: RandomStream): number[] {
  const total = checkedTotal(counts, target);
  if (target >= total) return copyOf(counts);
  if (drawKind(total, target) === "sparse") return drawSparsely(counts, total, target, stream);
  const left = zeros(counts.length);
  const isSmall = counts.length <= SMALL_PILES;
  const row = isSmall ? ROWS.borrow(total) : new AnimalRow(counts.length, total);
  row.layOut(counts);
  takeAtRandom(row.piles, total, target, stream, left);
  if (isSmall) ROWS.giveBack(row);
  return left;
}

/** The same draw again and again from one sample: what does not change between draws is made once. */
export class IndividualDrawer {
  readonly #counts: readonly number[];
  readonly #target: number;
  readonly #total: number;
  /** Undefined where everything is kept or the draw is sparse. */
  readonly #dense: { readonly start: PilesInRow; readonly row: PilesInRow } | undefined;

  /**
   * @param kind chosen by the sizes when left out; tests compare the two
   * @throws RangeError as `drawIndividuals`
   */
  constructor(counts: ArrayLike<number>, target: number, kind?: DrawKind) {
    this.#total = checkedTotal(counts, target);
    this.#counts = copyOf(counts);
    this.#target = target;
    if (target >= this.#total || (kind ?? drawKind(this.#total, target)) === "sparse") return;
    const row = new AnimalRow(counts.length, this.#total);
    row.layOut(counts);
    this.#dense = { start: row.piles.slice(), row: row.piles };
  }

  /**
   * The next draw of the stream. Draws after the first go on where the stream stands, so the first of many is
   * the same as a single one.
   *
   * @param left one number for each pile, filled and returned; a new array when left out
   */
  draw(stream: RandomStream, left: number[] = zeros(this.#counts.length)): number[] {
    if (this.#target >= this.#total) return copyInto(left, this.#counts);
    if (this.#dense === undefined)
      return copyInto(left, drawSparsely(this.#counts, this.#total, this.#target, stream));
    const { start, row } = this.#dense;
    left.fill(0);
    row.set(start);
    takeAtRandom(row, this.#total, this.#target, stream, left);
    return left;
  }
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

function copyInto(left: number[], counts: readonly number[]): number[] {
  for (const [pile, count] of counts.entries()) left[pile] = count;
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
  if (target > LARGEST_SPARSE_DRAW)
    throw new RangeError(`a draw of ${target} animals out of ${total} does not fit into memory`);
  return "sparse";
}
