import { hash } from "node:crypto";
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";

/**
 * A source of random whole numbers. Everything random in this folder takes one as an argument, so that a test
 * can hand in a counting source and go through every possible course of events.
 */
export interface RandomStream {
  /**
   * A whole number from 0 to n - 1, each with the same probability.
   *
   * @param n whole number from 1 to 2^53
   */
  below(n: number): number;
}

/** A generator of 32-bit numbers; the sign does not matter. */
export interface WordSource {
  next(): number;
}

const WORDS = 2 ** 32;
const LARGEST_RANGE = 2 ** 53;

/**
 * The random stream of one sample.
 *
 * Its state is the hash of the name of the algorithm, the seed and the sample id. So a draw never depends on
 * the batch around the sample, on the order of samples, rows or files, or on the number of threads; and
 * neighbouring seeds or sample ids give unrelated streams, which a generator started with a small number does
 * not (the first numbers of xoroshiro128+ for the starts 0, 1, 2 are nearly the same).
 *
 * The hash is SHA-256 over the UTF-8 bytes of the JSON array `[algorithm, seed, sampleId]`, or
 * `[algorithm, seed, sampleId, purpose]`, without white space. Its first 16 bytes are the two 64-bit numbers
 * s0 and s1, big-endian, of xoroshiro128+ with the shifts 24, 16, 37 (Blackman D & Vigna S 2021, Scrambled
 * linear pseudorandom number generators, ACM Trans. Math. Softw. 47(4):36; the implementation is that of the
 * package pure-rand). Each step gives the lower 32 bits of s0 + s1.
 *
 * @param algorithm name and version, for instance `fixed-count-individual/1`
 * @param seed canonical text of a seed, see `parseSeed`
 * @param sampleId the id as the sheet writes it
 * @param purpose tells several streams of one sample apart, for instance `level-2`
 */
export function randomStream(
  algorithm: string,
  seed: string,
  sampleId: string,
  purpose?: string,
): RandomStream {
  return streamFromWords(xoroshiro128plusFromState(startOfStream(algorithm, seed, sampleId, purpose)));
}

/** The state from which the stream of these parts starts, see `randomStream`. */
export function startOfStream(
  algorithm: string,
  seed: string,
  sampleId: string,
  purpose?: string,
): [number, number, number, number] {
  const end = purpose === undefined ? "]" : `,${JSON.stringify(purpose)}]`;
  const parts = frontOf(algorithm, seed) + JSON.stringify(sampleId) + end;
  // As a text, since the library takes twice as long to give bytes of so short a hash.
  return stateFromDigest(hash("sha256", parts, "binary"));
}

/** The front of the JSON array, which all samples of a batch share. */
function frontOf(algorithm: string, seed: string): string {
  if (front.algorithm !== algorithm || front.seed !== seed)
    front = { algorithm, seed, text: `[${JSON.stringify(algorithm)},${JSON.stringify(seed)},` };
  return front.text;
}

let front = { algorithm: "", seed: "", text: '["","",' };

/** Makes a stream from any generator of 32-bit numbers. */
export function streamFromWords(words: WordSource): RandomStream {
  return new WordStream(words);
}

/**
 * The first 16 bytes of a hash as the four numbers of the generator's state. All zeros is the one state from
 * which the generator never leaves, so it becomes 0, 0, 0, 1; no hash is known to give it.
 *
 * @param digest a character a byte
 */
export function stateFromDigest(digest: string): [number, number, number, number] {
  const [a, b, c, d] = [wordAt(digest, 0), wordAt(digest, 4), wordAt(digest, 8), wordAt(digest, 12)];
  return (a | b | c | d) === 0 ? [0, 0, 0, 1] : [a, b, c, d];
}

/** Four bytes, the highest first, as a number with a sign. */
function wordAt(digest: string, at: number): number {
  return (
    (digest.charCodeAt(at) << 24) |
    (digest.charCodeAt(at + 1) << 16) |
    (digest.charCodeAt(at + 2) << 8) |
    digest.charCodeAt(at + 3)
  );
}

class WordStream implements RandomStream {
  readonly #words: WordSource;

  constructor(words: WordSource) {
    this.#words = words;
  }

  /**
   * Cuts the range of the generator into n pieces of equal, whole size and says into which one its next number
   * falls. What lies beyond the last piece is thrown away and drawn again: taking the remainder of a division
   * instead would favour small numbers. The quotients are exact, because all parts are whole numbers of at
   * most 53 bits.
   */
  below(n: number): number {
    if (n >= WORDS) return n === WORDS ? this.#words.next() >>> 0 : this.#belowLarge(n);
    if (!(n >= 1)) throw new RangeError(`no whole number lies from 0 to below ${n}`);
    const piece = Math.floor(WORDS / n);
    // One place that asks for a number, also for those drawn again: compiled code would not know a second one, since
    // it is come to so seldom, and would be given up there in the middle of a batch.
    for (;;) {
      const value = ((this.#words.next() >>> 0) / piece) >>> 0;
      if (value < n) return value;
    }
  }

  /** The same with two numbers of the generator: 21 bits of the first, all 32 of the second. */
  #belowLarge(n: number): number {
    if (n > LARGEST_RANGE) throw new RangeError(`the range ${n} is beyond 2^53`);
    const piece = Math.floor(LARGEST_RANGE / n);
    for (;;) {
      const high = this.#words.next() >>> 11;
      const value = Math.floor((high * WORDS + (this.#words.next() >>> 0)) / piece);
      if (value < n) return value;
    }
  }
}
