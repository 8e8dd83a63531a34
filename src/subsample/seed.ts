/**
 * The seed used when the user gives none. It is fixed and printed with every result, so that the same command
 * on the same sheet gives the same draw on every machine and on every day.
 */
export const DEFAULT_SEED = "1";

const LARGEST_SEED = BigInt(Number.MAX_SAFE_INTEGER);

/**
 * Reads a seed into its one canonical text.
 *
 * A seed is a whole number from 0 to 9007199254740991 (2^53 - 1) without leading zeros, or a word: a letter
 * first, then letters, digits, `_` and `-`, 64 characters at most, capitals told apart. Only ASCII letters and
 * digits are taken, so that a seed copied from a printed page cannot be a look-alike of another. The two kinds
 * never meet, because a word starts with a letter: number 7 and text "7" are the same seed.
 *
 * @returns the seed as it goes into the hash, or undefined when the text is no seed
 */
export function parseSeed(text: string): string | undefined {
  if (/^(0|[1-9][0-9]{0,15})$/.test(text)) return BigInt(text) <= LARGEST_SEED ? text : undefined;
  return /^[A-Za-z][A-Za-z0-9_-]{0,63}$/.test(text) ? text : undefined;
}
