/**
 * What a metric is made of, as plain numbers by taxon: enough to work it out thousands of times from counts, with
 * nothing made on the way. A metric without such a form is worked out as it always is.
 */
export type LeanForm = LeanAnimals | LeanTaxa | LeanTaxaQuotient | LeanTaxaSum | LeanDominants | LeanShannon;

/** What a quotient is when nothing stands below its line. */
export type WhenNoneBelow = "missing" | "above-alone" | "zero";

/** Sum of count x weight over sum of count x weight; a missing list of weights below takes every animal. */
export interface LeanAnimals {
  readonly kind: "animals";
  readonly above: Int32Array | Uint8Array;
  readonly below: Int32Array | Uint8Array | undefined;
  readonly aboveTimes: number;
  readonly belowTimes: number;
  /** Animals of one taxon that enter at most. */
  readonly most: number;
  readonly whenNoneBelow: WhenNoneBelow;
}

/** Number of taxa of a mask, or of groups that have one. */
export interface LeanTaxa {
  readonly kind: "taxa";
  readonly mask: Uint8Array;
  readonly groups: Int32Array | undefined;
}

/** Taxa of one mask over those of another; over all when there is no other. */
export interface LeanTaxaQuotient {
  readonly kind: "taxa-quotient";
  readonly above: Uint8Array;
  readonly below: Uint8Array | undefined;
  readonly times: number;
  readonly whenNoneBelow: WhenNoneBelow;
}

/** Sum of what taxa bring, how many bring something, or the average of it times `times`. */
export interface LeanTaxaSum {
  readonly kind: "taxa-sum";
  /** What each taxon brings; NaN for one that takes no part. */
  readonly weights: Float64Array;
  /** By what the sum of the weights is divided, so that they can be whole numbers. */
  readonly scale: number;
  /** How often a record brings it: as often as it stands for taxa, once at most in proportion, or once. */
  readonly each: "taxon" | "row" | "presence";
  readonly result: "sum" | "number" | "average";
  readonly times: number;
}

/** Share of the most numerous taxa of a mask among its animals. */
export interface LeanDominants {
  readonly kind: "dominants";
  readonly mask: Uint8Array;
  readonly groups: Int32Array | undefined;
  readonly taxaTogether: number;
  readonly times: number;
}

/** Entropy of the counts of a mask in units of the logarithm of `base`. */
export interface LeanShannon {
  readonly kind: "shannon";
  readonly mask: Uint8Array;
  readonly groups: Int32Array | undefined;
  readonly base: number;
}
