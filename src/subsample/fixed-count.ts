import { INDIVIDUAL_ALGORITHMS, selectAlgorithm } from "./algorithms.ts";
import { totalAnimals } from "./piles.ts";
import { randomStream } from "./stream.ts";

/**
 * What the count rule made of a sample:
 * - `drawn`: it held more animals than the target, exactly the target is left;
 * - `whole`: it is kept as it is, and nothing is amiss: its number of animals is the target or within the limits
 *   around it, or all of it was sorted;
 * - `under-target`: it is kept as it is, but fewer animals than the target were counted although only a part
 *   was sorted, or it is not known how much was sorted;
 * - `empty`: all of it was sorted and no animal was found, which is a result and no mistake.
 */
export type CountStatus = "drawn" | "whole" | "under-target" | "empty";

/** One sample before the draw. */
export interface CountRuleInput {
  /**
   * Animals of each pile that count, in the order of `canonicalOrder`. Animals that do not count (excluded, put
   * back alive) and those of the search for large and rare ones are not among them.
   */
  readonly counts: ArrayLike<number>;
  /** Animals to be left; undefined: no fixed count is asked for. */
  readonly target: number | undefined;
  /** Share of the sample that was sorted, above 0 up to 1; undefined where it is not known. */
  readonly fractionSorted: number | undefined;
  /** Fewer animals than this are too few for the part that was sorted; the target when left out. */
  readonly lowerLimit?: number | undefined;
  /** Up to so many animals are kept as they are, where a method takes every count within its tolerance; the target when left out. */
  readonly upperLimit?: number | undefined;
  readonly seed: string;
  readonly sampleId: string;
  /** Id of one of `INDIVIDUAL_ALGORITHMS`; the newest when left out. */
  readonly algorithm?: string | undefined;
}

/** The sample after the draw. */
export interface CountRuleOutcome {
  readonly status: CountStatus;
  /** Animals left of each pile, in the order of the input. */
  readonly left: ArrayLike<number>;
  /** Animals before and after. */
  readonly total: number;
  readonly kept: number;
  /** Estimate of all animals of the sample, from the animals counted before the draw and the share sorted. */
  readonly estimatedTotal: number | undefined;
  /** Id of the algorithm that drew, or would have. */
  readonly algorithm: string;
}

/**
 * Brings a sample to its fixed count, animal by animal.
 *
 * A sample with more animals than the target, or than the upper limit where there is one, loses all beyond the
 * target at random; one with fewer is kept whole (no animal is ever made up) and the status says whether that is a
 * doubt.
 *
 * @throws RangeError for counts that are no whole numbers, a target that is no whole number above 0, a share
 *   outside of 0 to 1, and an unknown algorithm
 */
export function applyCountRule(input: CountRuleInput): CountRuleOutcome {
  return repeatedCountRule(input)();
}

/**
 * The same again and again: each call of the function given back is one draw. Draws after the first go on where the
 * stream of the sample stands, so the first of many is that of `applyCountRule`.
 *
 * @throws RangeError as `applyCountRule`
 */
export function repeatedCountRule(input: CountRuleInput): () => CountRuleOutcome {
  const { counts, target, fractionSorted } = input;
  if (target !== undefined && !(Number.isSafeInteger(target) && target > 0))
    throw new RangeError(`the target ${target} is not a whole number above 0`);
  if (fractionSorted !== undefined && !(fractionSorted > 0 && fractionSorted <= 1))
    throw new RangeError(`the share sorted, ${fractionSorted}, is not above 0 and up to 1`);
  const algorithm = selectAlgorithm(INDIVIDUAL_ALGORITHMS, input.algorithm);
  const total = totalAnimals(counts);
  const estimatedTotal = fractionSorted === undefined ? undefined : total / fractionSorted;
  const outcome = (status: CountStatus, left: ArrayLike<number>, kept: number): CountRuleOutcome => {
    return { status, left, total, kept, estimatedTotal, algorithm: algorithm.id };
  };
  if (target === undefined || total <= Math.max(target, input.upperLimit ?? target))
    return () => outcome(undrawnStatus(total, input), counts, total);
  const stream = randomStream(algorithm.id, input.seed, input.sampleId);
  return () => outcome("drawn", algorithm.run(counts, target, stream), target);
}

function undrawnStatus(total: number, input: CountRuleInput): CountStatus {
  if (input.fractionSorted === 1) return total === 0 ? "empty" : "whole";
  if (input.target === undefined) return "whole";
  return total < (input.lowerLimit ?? input.target) ? "under-target" : "whole";
}
