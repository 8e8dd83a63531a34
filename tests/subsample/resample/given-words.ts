import { WordBlocks } from "../../../src/subsample/resample/word-block.ts";

/**
 * A stream whose first numbers are given.
 *
 * @param numbers whole numbers from 0 to 2^32 - 1
 */
export function given(...numbers: readonly number[]): WordBlocks {
  const stream = new WordBlocks("given/1", "1", "A");
  stream.words.set(numbers);
  stream.at = 0;
  return stream;
}
