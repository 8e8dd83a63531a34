import { LARGEST_TARGET } from "../../model/largest-target.ts";
import { DEFAULT_SEED, parseSeed } from "../../subsample/seed.ts";
import { defineOption, UsageError } from "../define.ts";
import { parseWholeNumber } from "./messages.ts";

/** A seed as given: a text for the streams, or `random` for a fresh one that is printed. */
export const seedOption = defineOption<string>({
  flags: "--seed <seed>",
  summary:
    "Seed of every random choice: a whole number or a word; 'random' draws one and prints it. The same seed gives the same draw for ever.",
  group: "Method",
  defaultText: DEFAULT_SEED,
  parse: (word) => {
    if (word === "random") return word;
    const seed = parseSeed(word);
    if (seed === undefined) {
      throw new UsageError(
        `"${word}" is not a seed: a whole number from 0 to 9007199254740991 without leading zeros, or a word (a letter, then letters, digits, _ or -; 64 at most)`,
      );
    }
    return seed;
  },
});

/** What is wrong with a target beyond the largest. */
export function tooLarge(target: number, hint?: string): UsageError {
  return new UsageError(`a draw of ${target} animals is too large: ${LARGEST_TARGET} at most`, hint);
}

/** Animals to keep, or null for no draw. */
export const targetOption = defineOption<number | null>({
  flags: "--target <n>",
  summary: "Animals drawn from each larger sample; 'none' draws nothing.",
  group: "Method",
  defaultText: "the set's own count rule",
  parse: (word) => {
    if (word === "none") return null;
    const target = parseWholeNumber(word);
    if (target === 0)
      throw new UsageError(
        "a draw of 0 animals would score nothing",
        "--target none draws nothing and scores every animal",
      );
    if (target > LARGEST_TARGET)
      throw tooLarge(target, "--target none draws nothing and scores every animal");
    return target;
  },
});
