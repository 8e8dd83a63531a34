import type { LeanMetric } from "./lean-model.ts";

// Kinds of metrics as numbers, which are told apart more quickly than texts.
export const ANIMALS = 0;
export const TAXA = 1;
export const TAXA_QUOTIENT = 2;
export const TAXA_SUM = 3;
export const DOMINANTS = 4;
export const SHANNON = 5;
export const OTHER = 6;

const NONE = new Int32Array(0);
const NO_WEIGHTS = new Float64Array(0);

/**
 * A metric as the evaluator reads it a thousand times. All kinds have the same members in the same order: from
 * objects of one form the engine reads a member at once, of many forms it has to look up where it stands.
 */
export class LeanMeasure {
  readonly kind: number;
  readonly entries: Int32Array;
  /** Of `entries`. */
  readonly weights: Float64Array;
  /** What stands below in a quotient; all entries where `isOfAll`. */
  readonly below: Int32Array;
  readonly belowWeights: Float64Array;
  readonly isOfAll: boolean;
  /** For each of `entries` the number of its group, where `hasGroups`. */
  readonly groups: Int32Array;
  readonly hasGroups: boolean;
  readonly groupCount: number;
  /** Animals of an entry that enter at most. */
  readonly most: number;
  readonly times: number;
  readonly belowTimes: number;
  readonly whenNoneBelow: "missing" | "above-alone" | "zero";
  /** Of a sum over taxa; the divisor of an entropy in natural units. */
  readonly scale: number;
  readonly isEachTaxon: boolean;
  readonly result: "sum" | "number" | "average";
  readonly taxaTogether: number;
  /** Number of a metric that is worked out elsewhere. */
  readonly metric: number;
  /** Which of the numbers of taxa that are counted together it is; -1 for none. */
  counter = -1;

  constructor(form: LeanMetric) {
    const isWeighed = form.kind === "animals";
    const isQuotient = form.kind === "taxa-quotient";
    const isSum = form.kind === "taxa-sum";
    const groups = "groups" in form ? form.groups : undefined;
    this.kind = KIND_NUMBERS[form.kind];
    this.entries = isWeighed
      ? form.above.entries
      : isQuotient
        ? form.above
        : isSum
          ? form.members.entries
          : "entries" in form
            ? form.entries
            : NONE;
    this.weights = isWeighed ? form.above.weights : isSum ? form.members.weights : NO_WEIGHTS;
    this.below = (isWeighed ? form.below?.entries : isQuotient ? form.below : undefined) ?? NONE;
    this.belowWeights = (isWeighed ? form.below?.weights : undefined) ?? NO_WEIGHTS;
    this.isOfAll = (isWeighed || isQuotient) && form.below === undefined;
    this.groups = groups ?? NONE;
    this.hasGroups = groups !== undefined;
    this.groupCount = this.groups.reduce((most, group) => Math.max(most, group + 1), 0);
    this.most = isWeighed ? form.most : Number.POSITIVE_INFINITY;
    this.times = isWeighed ? form.aboveTimes : "times" in form ? form.times : 1;
    this.belowTimes = isWeighed ? form.belowTimes : 1;
    this.whenNoneBelow = isWeighed || isQuotient ? form.whenNoneBelow : "missing";
    this.scale = isSum ? form.scale : form.kind === "shannon" ? naturalBase(form.base) : 1;
    this.isEachTaxon = isSum && form.each === "taxon";
    this.result = isSum ? form.result : "sum";
    this.taxaTogether = form.kind === "dominants" ? form.taxaTogether : 0;
    this.metric = form.kind === "other" ? form.metric : -1;
  }
}

const KIND_NUMBERS: Readonly<Record<LeanMetric["kind"], number>> = {
  animals: ANIMALS,
  taxa: TAXA,
  "taxa-quotient": TAXA_QUOTIENT,
  "taxa-sum": TAXA_SUM,
  dominants: DOMINANTS,
  shannon: SHANNON,
  other: OTHER,
};

function naturalBase(base: number): number {
  return base === Math.E ? 1 : Math.log(base);
}
