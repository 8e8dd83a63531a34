import type { RareTaxa } from "../../metrics/measures/rare-taxa.ts";
import { leanIndex, leanRating, leanScore } from "./lean-index.ts";
import type { LeanIndex, LeanMetric, LeanModel, LeanScoring } from "./lean-model.ts";
import { dominantSum, entropyOf, gather, sumOf, weightedSum } from "./lean-sums.ts";
import type { ResampleEvaluator } from "./resampling-job.ts";

/** Works a metric out from the records of a resample as it always is; NaN when it is missing. */
export type OtherMetric = (metric: number, counts: Int32Array, richness: Int32Array) => number;

/**
 * Scores resamples in plain numbers, with nothing made on the way: what takes a sample through the road once takes
 * longer than a hundred resamples here. On the counts of a sample it gives what the exact road gives, and decides
 * limits alike; a property test holds the two against each other.
 */
export class LeanEvaluator implements ResampleEvaluator {
  readonly metrics: number;
  readonly rareTaxa: readonly (RareTaxa | undefined)[];
  readonly isDominance: readonly boolean[];
  readonly values: Float64Array;
  readonly pieces: Int32Array;
  index = Number.NaN;
  rating = -1;
  // Parts of the model, which is not asked for them in loops: models may be of several shapes to the engine.
  readonly #forms: readonly LeanMetric[];
  readonly #scoring: readonly LeanScoring[];
  readonly #indexRule: LeanIndex;
  readonly #entryOf: Int32Array;
  readonly #kinds: Int32Array;
  readonly #found: Uint8Array;
  readonly #alwaysDistinct: Uint8Array;
  readonly #parents: LeanModel["parents"];
  readonly #other: OtherMetric;
  /** Counts of the entries; those of the draw itself where each pile is an entry. */
  #counts: Int32Array;
  readonly #richness: Int32Array;
  readonly #scores: Float64Array;
  readonly #groups: Int32Array;
  readonly #isPlain: boolean;
  #total = 0;

  /** @param other for models with a metric of the kind `other` */
  constructor(model: LeanModel, other: OtherMetric = noOther) {
    this.#forms = model.metrics;
    this.#scoring = model.scoring;
    this.#indexRule = model.index;
    this.#entryOf = model.entryOf;
    this.#kinds = model.kinds;
    this.#found = model.found;
    this.#alwaysDistinct = model.alwaysDistinct;
    this.#parents = model.parents;
    this.#other = other;
    this.metrics = model.metrics.length;
    this.rareTaxa = model.rareTaxa;
    this.isDominance = model.metrics.map(({ kind }) => kind === "dominants");
    this.values = new Float64Array(this.metrics);
    this.pieces = new Int32Array(this.metrics);
    this.#counts = new Int32Array(model.entries);
    this.#richness = new Int32Array(model.entries);
    this.#scores = new Float64Array(this.metrics);
    this.#groups = new Int32Array(model.entries);
    this.#isPlain =
      model.entryOf.length === model.entries && model.entryOf.every((entry, pile) => entry === pile);
  }

  evaluate(counts: Int32Array, finds: Float64Array): void {
    this.#gather(counts);
    const metrics = this.#forms;
    const scoring = this.#scoring;
    for (let metric = 0; metric < metrics.length; metric++) {
      const value = this.#measure(metrics[metric] as LeanMetric, finds[metric] as number);
      this.values[metric] = value;
      this.#scores[metric] = leanScore(scoring[metric] as LeanScoring, value, metric, this.pieces);
    }
    this.index = leanIndex(this.#indexRule, this.#scores);
    this.rating = this.ratingOf(this.index);
  }

  ratingOf(index: number): number {
    return leanRating(this.#indexRule, index);
  }

  /** Counts and richness of the entries. */
  #gather(drawn: Int32Array): void {
    const entryOf = this.#entryOf;
    const kinds = this.#kinds;
    const found = this.#found;
    const entries = kinds.length;
    const richness = this.#richness;
    if (this.#isPlain) this.#counts = drawn;
    else {
      const own = this.#counts;
      own.fill(0);
      for (let pile = 0; pile < entryOf.length; pile++) {
        const entry = entryOf[pile] as number;
        own[entry] = (own[entry] as number) + (drawn[pile] as number);
      }
    }
    const counts = this.#counts;
    let total = 0;
    for (let entry = 0; entry < entries; entry++) {
      const count = counts[entry] as number;
      total += count;
      // As a number and not as a branch: whether a rare taxon is met is as good as random.
      const isThere = (-count >>> 31) | (found[entry] as number);
      richness[entry] = Math.imul(kinds[entry] as number, isThere);
    }
    this.#total = total;
    // Finest first: what the finer ones add is settled when their parent's turn comes.
    for (const { entry, finer } of this.#parents) {
      if (richness[entry] === 0 || this.#alwaysDistinct[entry] === 1) continue;
      let below = 0;
      for (let i = 0; i < finer.length; i++) below += richness[finer[i] as number] as number;
      richness[entry] = Math.max(0, (richness[entry] as number) - below);
    }
  }

  #measure(form: LeanMetric, finds: number): number {
    const counts = this.#counts;
    const richness = this.#richness;
    switch (form.kind) {
      case "animals": {
        const above = weightedSum(form.above, counts, form.most);
        const below = form.below === undefined ? this.#total : weightedSum(form.below, counts, form.most);
        return quotient(above * form.aboveTimes, below * form.belowTimes, form.whenNoneBelow);
      }
      case "taxa":
        return (
          (form.groups === undefined ? this.#taxa(form.entries) : this.#groupsOf(form.entries, form.groups)) +
          finds
        );
      case "taxa-quotient": {
        const below = this.#taxa(form.below);
        return quotient(this.#taxa(form.above) * form.times, below, form.whenNoneBelow);
      }
      case "taxa-sum":
        return this.#taxaSum(form) + finds;
      case "dominants": {
        const { entries, groups, taxaTogether, times } = form;
        const size = gather(counts, entries, groups, this.#groups);
        const sum = entries.length === counts.length ? this.#total : sumOf(this.#groups, size);
        return sum === 0 ? Number.NaN : (dominantSum(this.#groups, size, taxaTogether) * times) / sum;
      }
      case "shannon": {
        const { entries, groups, base } = form;
        // All entries in their order are the counts themselves.
        const isAll = groups === undefined && entries.length === counts.length;
        const size = isAll ? counts.length : gather(counts, entries, groups, this.#groups);
        return entropyOf(isAll ? counts : this.#groups, size) / naturalBase(base);
      }
      case "other":
        return this.#other(form.metric, counts, richness);
    }
  }

  #taxa(entries: Int32Array | undefined): number {
    const richness = this.#richness;
    let taxa = 0;
    if (entries === undefined) for (let i = 0; i < richness.length; i++) taxa += richness[i] as number;
    else for (let i = 0; i < entries.length; i++) taxa += richness[entries[i] as number] as number;
    return taxa;
  }

  #groupsOf(entries: Int32Array, groups: Int32Array): number {
    const met = this.#groups;
    met.fill(0);
    let taxa = 0;
    for (let i = 0; i < entries.length; i++) {
      const group = groups[i] as number;
      if ((this.#richness[entries[i] as number] as number) <= 0 || met[group] === 1) continue;
      met[group] = 1;
      taxa++;
    }
    return taxa;
  }

  #taxaSum({ members, scale, each, result, times }: Extract<LeanMetric, { kind: "taxa-sum" }>): number {
    const { entries, weights } = members;
    let sum = 0;
    let number = 0;
    for (let i = 0; i < entries.length; i++) {
      const richness = this.#richness[entries[i] as number] as number;
      if (richness <= 0) continue;
      // A record here stands for a whole number of taxa, so that one row brings as much as being there does.
      sum += (weights[i] as number) * (each === "taxon" ? richness : 1);
      number++;
    }
    if (result === "sum") return sum / scale;
    if (result === "number") return number;
    return number === 0 ? Number.NaN : (sum * times) / (number * scale);
  }
}

function noOther(metric: number): never {
  throw new Error(`nothing works metric ${metric} out`);
}

function naturalBase(base: number): number {
  return base === Math.E ? 1 : Math.log(base);
}

function quotient(above: number, below: number, whenNone: "missing" | "above-alone" | "zero"): number {
  if (below > 0) return above / below;
  if (whenNone === "missing") return Number.NaN;
  return whenNone === "zero" ? 0 : above;
}
