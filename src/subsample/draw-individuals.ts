import type { IndividualPool } from "./individual-pool.ts";
import { DensePool, SparsePool } from "./individual-pool.ts";
import { totalAnimals } from "./piles.ts";
import type { RandomStream } from "./stream.ts";

/** Up to this many animals two numbers are taken from one random number; their product then fits in 32 bits. */
const LARGEST_PAIRED = 65_536;
/** Samples up to this size always have a place in memory for each animal. */
const ALWAYS_DENSE = 65_536;
/** Largest sample with a place in memory for each animal, half a gigabyte. */
const LARGEST_DENSE = 2 ** 28;
/** A draw of less than one in so many animals of a large sample remembers only the places it has touched. */
const SPARSE_RATIO = 64;
/** Most places that can be remembered. */
const LARGEST_SPARSE_DRAW = 2 ** 22;

/** How the animals of a draw are held in memory; the animals drawn are the same. */
export type PoolKind = "dense" | "sparse";

/**
 * Draws exactly `target` animals without replacement: every set of `target` animals is equally likely, so the
 * animals left of the piles follow the multivariate hypergeometric distribution (the fixed count on the
 * computer; its expectations are in Hurlbert SH 1971, Ecology 52:577-586).
 *
 * The animals stand in a row, pile after pile, and are put in random order from the front (Durstenfeld R 1964,
 * Algorithm 235: Random permutation, Commun. ACM 7(7):420); the first `target` of them stay. That order does
 * not depend on the target: the draw of 100 is contained in the draw of 200 with the same stream.
 *
 * @param counts animals of each pile, whole numbers, in the order of `canonicalOrder`
 * @param target animals to keep, a whole number; from the total on, everything is kept and the stream untouched
 * @returns animals left of each pile, in the same order
 * @throws RangeError when a count or the target is not a whole number of 0 or more, or the draw would not fit
 *   into memory (more than 2^22 animals out of more than 2^28)
 */
export function drawIndividuals(
  counts: ArrayLike<number>,
  target: number,
  stream: RandomStream,
): Float64Array<ArrayBuffer> {
  return new IndividualDrawer(counts, target).draw(stream);
}

/** The same draw again and again from one sample: what does not change between draws is made once. */
export class IndividualDrawer {
  readonly #counts: Float64Array<ArrayBuffer>;
  readonly #target: number;
  readonly #total: number;
  /** Undefined where everything is kept. */
  readonly #pool: IndividualPool | undefined;
  #drawn = false;

  /**
   * @param kind chosen by the sizes when left out; tests compare the two
   * @throws RangeError as `drawIndividuals`
   */
  constructor(counts: ArrayLike<number>, target: number, kind?: PoolKind) {
    if (!Number.isSafeInteger(target) || target < 0)
      throw new RangeError(`the target ${target} is not a whole number of animals`);
    this.#counts = Float64Array.from(counts);
    this.#total = totalAnimals(this.#counts);
    this.#target = target;
    if (target >= this.#total) return;
    const dense = (kind ?? poolKind(this.#total, target)) === "dense";
    this.#pool = dense ? new DensePool(this.#counts, this.#total) : new SparsePool(this.#counts);
  }

  /**
   * The next draw of the stream. Draws after the first go on where the stream stands, so the first of many is
   * the same as a single one.
   *
   * @param left one number for each pile, filled and returned; a new array when left out
   */
  draw(
    stream: RandomStream,
    left: Float64Array<ArrayBuffer> = new Float64Array(this.#counts.length),
  ): Float64Array<ArrayBuffer> {
    if (this.#pool === undefined) {
      left.set(this.#counts);
      return left;
    }
    if (this.#drawn) this.#pool.reset();
    this.#drawn = true;
    left.fill(0);
    takeFirst(this.#pool, this.#total, this.#target, stream, left);
    return left;
  }
}

function poolKind(total: number, target: number): PoolKind {
  if (total <= ALWAYS_DENSE || (total <= LARGEST_DENSE && target > total / SPARSE_RATIO)) return "dense";
  if (target > LARGEST_SPARSE_DRAW)
    throw new RangeError(`a draw of ${target} animals out of ${total} does not fit into memory`);
  return "sparse";
}

function takeFirst(
  pool: IndividualPool,
  total: number,
  target: number,
  stream: RandomStream,
  left: Float64Array,
): void {
  let at = 0;
  for (; at < target && total - at > LARGEST_PAIRED; at++) {
    const pile = pool.take(at, at + stream.below(total - at));
    left[pile] = (left[pile] ?? 0) + 1;
  }
  while (at < target) {
    // With n animals not yet taken, one number below n (n - 1) holds a number below n and one below n - 1,
    // independent of each other. Random numbers are what a draw spends its time on, so each serves twice.
    const others = total - at - 1;
    const both = stream.below((others + 1) * others);
    const first = Math.floor(both / others);
    const pile = pool.take(at, at + first);
    left[pile] = (left[pile] ?? 0) + 1;
    at++;
    if (at === target) return;
    const next = pool.take(at, at + both - first * others);
    left[next] = (left[next] ?? 0) + 1;
    at++;
  }
}
