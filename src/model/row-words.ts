import { LIFE_STAGES } from "./life-stage.ts";

/** What a row is made of, one 32-bit word each, so that rows in any order cost one look into memory and not six. */
export const ROW_WORDS = 4;
export const SAMPLE = 0;
export const NAME = 1;
export const COUNT = 2;
/** Number of the file in the upper half, then position of the stage in LIFE_STAGES, then flags. */
export const REST = 3;

/** The last word of a row. @param file its number in the table */
export function restWord(file: number, facts: { readonly stage: number; readonly flags: number }): number {
  return (file << 16) | (facts.stage << 8) | facts.flags;
}

// The loops over the rows of a page stand by themselves: called once a page, they are soon compiled.

/** Counts the rows of each sample, one place on; -1 when a sample came before `last`, else the last one. */
export function countSamples(page: Uint32Array, words: number, counts: Uint32Array, last: number): number {
  let before = last;
  let isGrouped = last >= 0;
  for (let word = SAMPLE; word < words; word += ROW_WORDS) {
    const sample = page[word] as number;
    counts[sample + 1] = (counts[sample + 1] as number) + 1;
    if (sample < before) isGrouped = false;
    before = sample;
  }
  return isGrouped ? before : -1;
}

export function numberFrom(first: number, numbers: Uint32Array): void {
  for (let own = 0; own < numbers.length; own++) numbers[own] = first + own;
}

/** Puts the rows of a page where `next` says that the next row of their sample belongs. */
export function putInOrder(
  page: Uint32Array,
  words: number,
  first: number,
  order: Uint32Array,
  next: Uint32Array,
): void {
  let row = first;
  for (let word = SAMPLE; word < words; word += ROW_WORDS) {
    const sample = page[word] as number;
    const place = next[sample] as number;
    order[place] = row++;
    next[sample] = place + 1;
  }
}

export function noteStages(page: Uint32Array, words: number, met: Uint8Array): void {
  for (let word = 0; word < words; word += ROW_WORDS) met[kindIn(page, word)] = 1;
}

export function putKindsInOrder(
  page: Uint32Array,
  words: number,
  kinds: Uint16Array | Uint32Array,
  next: Uint32Array,
): void {
  for (let word = 0; word < words; word += ROW_WORDS) {
    const sample = page[word + SAMPLE] as number;
    const place = next[sample] as number;
    kinds[place] = kindIn(page, word);
    next[sample] = place + 1;
  }
}

/**
 * Copies the rows of a range of samples, all but the number of the sample, to where `next` says that the next row of
 * their sample belongs.
 *
 * @param first the first of the samples; there are as many as `next` has entries
 */
export function takeSamples(
  page: Uint32Array,
  words: number,
  first: number,
  next: Uint32Array,
  into: Uint32Array,
): void {
  for (let word = 0; word < words; word += ROW_WORDS) {
    // Below the first it is a large number.
    const sample = ((page[word + SAMPLE] as number) - first) >>> 0;
    if (sample >= next.length) continue;
    const place = next[sample] as number;
    into[place + NAME] = page[word + NAME] as number;
    into[place + COUNT] = page[word + COUNT] as number;
    into[place + REST] = page[word + REST] as number;
    next[sample] = place + ROW_WORDS;
  }
}

/** The name and stage of a row as one number. */
export function kindIn(page: Uint32Array, word: number): number {
  return kindOf(page[word + NAME] as number, page[word + REST] as number);
}

export function kindOf(name: number, rest: number): number {
  return name * LIFE_STAGES.length + stageIn(rest);
}

export function stageIn(rest: number): number {
  return (rest >>> 8) & 0xff;
}

/** Bits of ROW_FLAGS. */
export function flagsIn(rest: number): number {
  return rest & 0xff;
}

export function fileIn(rest: number): number {
  return rest >>> 16;
}
