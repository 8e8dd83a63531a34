import { startOfStream } from "../stream.ts";

const BLOCK = 1024;

/**
 * The numbers of the random stream of a sample in blocks, for draws repeated thousands of times: the same
 * generator with the same start as `randomStream` (xoroshiro128+ with the shifts 24, 16, 37, Blackman & Vigna
 * 2021; each number is the lower 32 bits of s0 + s1), written out so that a block is made without a call per
 * number. A test compares it with the package that `randomStream` takes it from.
 */
export class WordBlocks {
  readonly words = new Uint32Array(BLOCK);
  /** The same bits as numbers with a sign, which are quicker to take apart. */
  readonly signed = new Int32Array(this.words.buffer);
  /** Position of the next number that was not used yet. */
  at = BLOCK;
  #s0Low: number;
  #s0High: number;
  #s1Low: number;
  #s1High: number;

  /**
   * @param algorithm name and version, for instance `resample-individual/1`
   * @param seed canonical text of a seed
   */
  constructor(algorithm: string, seed: string, sampleId: string, purpose?: string) {
    const start = startOfStream(algorithm, seed, sampleId, purpose);
    [this.#s0High, this.#s0Low, this.#s1High, this.#s1Low] = start;
  }

  /** The next number, 0 to 2^32 - 1. */
  next(): number {
    if (this.at === BLOCK) this.fill();
    return this.words[this.at++] as number;
  }

  /** The same 32 bits as a number with a sign. */
  nextSigned(): number {
    if (this.at === BLOCK) this.fill();
    return this.signed[this.at++] as number;
  }

  /**
   * A whole number from 0 to n - 1, each with the same probability: the upper half of the product of a 32-bit
   * number and n; the few products that would favour a number are thrown away (Lemire D 2019, Fast random
   * integer generation in an interval, ACM Trans. Model. Comput. Simul. 29(1):3).
   *
   * @param n whole number from 1 to 2^21, so that the product is exact
   */
  below(n: number): number {
    if (n < 0x8000) return this.#belowSmall(n);
    for (;;) {
      const product = this.next() * n;
      const high = Math.floor(product / 4294967296);
      const low = product - high * 4294967296;
      if (low >= n || low >= 4294967296 % n) return high;
    }
  }

  /**
   * The same of n below 2^15 in whole numbers of 32 bits, which takes half the time: the product in two halves, whose
   * lower 32 bits are small enough to be looked at only where the upper 16 of them are 0.
   */
  #belowSmall(n: number): number {
    for (;;) {
      const word = this.nextSigned();
      const lower = Math.imul(word & 0xffff, n);
      const upper = Math.imul(word >>> 16, n) + (lower >>> 16);
      if ((upper & 0xffff) !== 0 || (lower & 0xffff) >= 4294967296 % n) return upper >>> 16;
    }
  }

  /** A number from 0 up to, but not including, 1, in steps of 2^-32. */
  share(): number {
    return this.next() / 4294967296;
  }

  /** Fills the block; whoever reads `words` directly calls it when `at` has come to the end. */
  fill(): void {
    const words = this.signed;
    let aLow = this.#s0Low;
    let aHigh = this.#s0High;
    let bLow = this.#s1Low;
    let bHigh = this.#s1High;
    for (let i = 0; i < words.length; i++) {
      words[i] = (aLow + bLow) | 0;
      const xLow = aLow ^ bLow;
      const xHigh = aHigh ^ bHigh;
      // s0 = rotate(s0, 24) ^ x ^ (x << 16); s1 = rotate(x, 37).
      const rotatedLow = (aLow << 24) | (aHigh >>> 8);
      const rotatedHigh = (aHigh << 24) | (aLow >>> 8);
      aLow = rotatedLow ^ xLow ^ (xLow << 16);
      aHigh = rotatedHigh ^ xHigh ^ ((xHigh << 16) | (xLow >>> 16));
      bLow = (xHigh << 5) | (xLow >>> 27);
      bHigh = (xLow << 5) | (xHigh >>> 27);
    }
    this.#s0Low = aLow;
    this.#s0High = aHigh;
    this.#s1Low = bLow;
    this.#s1High = bHigh;
    this.at = 0;
  }
}

/** Ranges up to this are drawn from with 16 bits of a number each: of more, too many would be thrown away. */
export const SMALL_RANGE = 16_384;

/** Numbers in a block. */
export const BLOCK_LENGTH = BLOCK;
