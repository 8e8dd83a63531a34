import { totalAnimals } from "../piles.ts";
import { SMALL_RANGE, type WordBlocks } from "./word-block.ts";

/** A jar of more animals than this is not laid out animal by animal: its draws are made with replacement. */
export const LARGEST_JAR = 2 ** 20;

/** Where draws of a fixed count come from, again and again. */
export interface FixedCountDrawer {
  /** False where every draw is the same, since all animals are taken. */
  readonly varies: boolean;
  /**
   * Fills `left` with the animals of each pile in the next draw.
   *
   * @returns how many different grids the animals are from; 0 where single animals are drawn
   */
  draw(left: Int32Array): number;
}

/**
 * Draws of `n` animals from the jar that the animals counted speak for.
 *
 * The jar is made of them by the fraction sorted: with N animals in it for C counted, each animal stands there
 * floor(N / C) times, and N modulo C animals, chosen at random for every draw, once more (pseudo-population
 * bootstrap: Gross S 1980, Median estimation in sample surveys, Proc. Surv. Res. Meth. ASA 181-184, for whole
 * quotients; Booth JG, Butler RW & Hall P 1994, Bootstrap methods for finite populations, J. Am. Stat. Assoc.
 * 89:1282-1289, for the remainder). The draw is without replacement, so that it does not vary at all where
 * everything was sorted and the target takes every animal. An endless jar is drawn from with replacement.
 *
 * The animals stay in the random order in which a draw leaves them: a shuffled row is as good a start as any.
 */
export class JarDrawer implements FixedCountDrawer {
  readonly #words: WordBlocks;
  readonly #n: number;
  readonly #piles: number;
  /** The pile of each place; a place with `piles` added is the additional copy of an animal. */
  readonly #row: Int32Array;
  readonly #withReplacement: boolean;
  /** Animals counted, and how many of them stand in the jar once more. */
  readonly #counted: number;
  readonly #remainder: number;
  /** Animals of which a draw has not decided yet whether they stand there once more, and how many of them do. */
  #undecided = 0;
  #open = 0;

  /**
   * @param counts animals counted of each pile
   * @param n animals of a draw, not more than were counted
   * @param jar animals in the jar, not fewer than were counted; undefined for an endless one
   * @throws RangeError for anything else
   */
  constructor(counts: ArrayLike<number>, n: number, jar: number | undefined, words: WordBlocks) {
    const counted = totalAnimals(counts);
    if (!Number.isSafeInteger(n) || n < 0 || n > counted)
      throw new RangeError(`${n} animals cannot be drawn from ${counted}`);
    if (jar !== undefined && (!Number.isSafeInteger(jar) || jar < counted))
      throw new RangeError(`a jar of ${jar} animals does not hold the ${counted} that were counted`);
    this.#words = words;
    this.#n = n;
    this.#piles = counts.length;
    this.#counted = counted;
    const laidOut = isDrawnWithReplacement(jar) ? undefined : jar;
    this.#withReplacement = laidOut === undefined;
    const copies = laidOut === undefined ? 1 : Math.floor(laidOut / Math.max(counted, 1));
    this.#remainder = laidOut === undefined ? 0 : laidOut - copies * counted;
    this.#row = new Int32Array(counted * (copies + (this.#remainder > 0 ? 1 : 0)));
    let at = 0;
    for (let copy = 0; at < this.#row.length; copy++) {
      const offset = copy < copies ? 0 : this.#piles;
      for (let pile = 0; pile < counts.length; pile++)
        for (let animal = counts[pile] as number; animal > 0; animal--) this.#row[at++] = pile + offset;
    }
    this.varies = n > 0 && (laidOut === undefined || laidOut > n);
  }

  readonly varies: boolean;

  draw(left: Int32Array): number {
    left.fill(0);
    if (this.#withReplacement) this.#drawEndless(left);
    else this.#drawFinite(left);
    return 0;
  }

  /** A small row is drawn from with half a random number for each animal, the upper one first. */
  #drawEndless(left: Int32Array): void {
    const row = this.#row;
    const length = row.length;
    const words = this.#words;
    if (length > SMALL_RANGE) {
      for (let drawn = 0; drawn < this.#n; drawn++) {
        const pile = row[words.below(length)] as number;
        left[pile] = (left[pile] as number) + 1;
      }
      return;
    }
    const block = words.signed;
    const unfair = 65536 % length;
    const last = this.#n - 1;
    let at = words.at;
    let drawn = 0;
    while (drawn <= last) {
      if (at === block.length) {
        words.fill();
        at = 0;
      }
      const word = block[at++] as number;
      const first = Math.imul(word >>> 16, length);
      if ((first & 0xffff) >= unfair) {
        const pile = row[first >>> 16] as number;
        left[pile] = (left[pile] as number) + 1;
        drawn++;
      }
      const second = Math.imul(word & 0xffff, length);
      // The last animal of an odd count leaves half a number over.
      if ((second & 0xffff) >= unfair && drawn <= last) {
        const pile = row[second >>> 16] as number;
        left[pile] = (left[pile] as number) + 1;
        drawn++;
      }
    }
    words.at = at;
  }

  #drawFinite(left: Int32Array): void {
    this.#undecided = this.#counted;
    this.#open = this.#remainder;
    if (this.#row.length > SMALL_RANGE) this.#drawLarge(left);
    else this.#drawSmall(left);
  }

  #drawLarge(left: Int32Array): void {
    const row = this.#row;
    let end = this.#n;
    for (let place = 0; place < end; place++) {
      const other = place + this.#words.below(row.length - place);
      const found = row[other] as number;
      row[other] = row[place] as number;
      row[place] = found;
      if (found < this.#piles) left[found] = (left[found] as number) + 1;
      else end += this.#decide(found - this.#piles, left);
    }
  }

  /**
   * The next place is chosen with half a random number, the upper one first. Words are taken from the block itself,
   * and both halves of one in a round that is left at its end only, which takes three quarters of the time of a call
   * for each half.
   */
  #drawSmall(left: Int32Array): void {
    const words = this.#words;
    const block = words.signed;
    const row = this.#row;
    const piles = this.#piles;
    const length = row.length;
    let at = words.at;
    let place = 0;
    let end = this.#n;
    while (place < end) {
      if (at === block.length) {
        words.fill();
        at = 0;
      }
      const word = block[at++] as number;
      const first = Math.imul(word >>> 16, length - place);
      if (isFair(first, length - place)) {
        const other = place + (first >>> 16);
        const found = row[other] as number;
        row[other] = row[place] as number;
        row[place++] = found;
        if (found < piles) left[found] = (left[found] as number) + 1;
        else {
          words.at = at;
          end += this.#decide(found - piles, left);
          at = words.at;
        }
      }
      const second = Math.imul(word & 0xffff, length - place);
      // The last animal of an odd count leaves half a number over.
      if (place < end && isFair(second, length - place)) {
        const other = place + (second >>> 16);
        const found = row[other] as number;
        row[other] = row[place] as number;
        row[place++] = found;
        if (found < piles) left[found] = (left[found] as number) + 1;
        else {
          words.at = at;
          end += this.#decide(found - piles, left);
          at = words.at;
        }
      }
    }
    words.at = at;
  }

  /**
   * Which animals stand there once more is decided one by one, when the draw meets their additional copy. Whether
   * this one does is worked out as 1 or 0: as good as random, a branch on it would be guessed wrongly by the
   * processor half the time.
   *
   * @returns places by which the draw must go further: 1 when the copy is not there
   */
  #decide(pile: number, left: Int32Array): number {
    const isThere = (this.#words.below(this.#undecided--) - this.#open) >>> 31;
    this.#open -= isThere;
    left[pile] = (left[pile] as number) + isThere;
    return 1 - isThere;
  }
}

/** Whether the product of 16 bits and a range is none of the few that would favour a number, see `WordBlocks.below`. */
function isFair(product: number, range: number): boolean {
  const low = product & 0xffff;
  return low >= range || low >= 65536 % range;
}

/** Whether draws from a jar are made with replacement: it is endless, or too large to be laid out. */
export function isDrawnWithReplacement(jar: number | undefined): boolean {
  return jar === undefined || jar > LARGEST_JAR;
}
