import type { RareTaxa } from "../../metrics/measures/rare-taxa.ts";
import { IndexRule, leanIndex, leanRating, leanScore, ScoringRule } from "./lean-index.ts";
import { ANIMALS, DOMINANTS, LeanMeasure, SHANNON, TAXA, TAXA_QUOTIENT, TAXA_SUM } from "./lean-measure.ts";
import type { LeanModel } from "./lean-model.ts";
import { dominantSum, entropyOf, gather, gatherGroups, largestOf, sumOf, weightedSum } from "./lean-sums.ts";
import type { ResampleEvaluator } from "./resampling-job.ts";
import { canCount, TaxaCounts } from "./taxa-counts.ts";

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
  readonly #measures: readonly LeanMeasure[];
  readonly #scoring: readonly ScoringRule[];
  readonly #indexRule: IndexRule;
  readonly #entryOf: Int32Array;
  readonly #kinds: Int32Array;
  readonly #found: Uint8Array;
  readonly #alwaysDistinct: Uint8Array;
  /** Of each entry with finer ones below it: the entry, how many these are, and which. */
  readonly #parents: Int32Array;
  readonly #other: OtherMetric;
  /** Counts of the entries; those of the draw itself where each pile is an entry. */
  #counts: Int32Array;
  readonly #richness: Int32Array;
  readonly #scores: Float64Array;
  readonly #groups: Int32Array;
  readonly #isPlain: boolean;
  readonly #taxaCounts: TaxaCounts;
  #total = 0;

  /** @param other for models with a metric of the kind `other` */
  constructor(model: LeanModel, other: OtherMetric = noOther) {
    this.#measures = model.metrics.map((form) => new LeanMeasure(form));
    const counted = canCount(model.kinds)
      ? this.#measures.filter(({ kind, hasGroups }) => kind === TAXA && !hasGroups)
      : [];
    for (const [counter, measure] of counted.entries()) measure.counter = counter;
    this.#taxaCounts = new TaxaCounts(
      counted.map(({ entries }) => entries),
      model.kinds,
    );
    this.#scoring = model.scoring.map((rule) => new ScoringRule(rule));
    this.#indexRule = new IndexRule(model.index);
    this.#entryOf = model.entryOf;
    this.#kinds = model.kinds;
    this.#found = model.found;
    this.#alwaysDistinct = model.alwaysDistinct;
    this.#parents = Int32Array.from(
      model.parents.flatMap(({ entry, finer }) => [entry, finer.length, ...finer]),
    );
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
    const taxaCounts = this.#taxaCounts;
    taxaCounts.count(this.#richness);
    const { values, pieces } = this;
    const measures = this.#measures;
    const scoring = this.#scoring;
    const scores = this.#scores;
    for (let metric = 0; metric < measures.length; metric++) {
      const measure = measures[metric] as LeanMeasure;
      const find = finds[metric] as number;
      // Numbers of taxa are most metrics of most sets, and known already.
      const value =
        measure.counter >= 0 ? taxaCounts.of(measure.counter) + find : this.#measure(measure, find);
      values[metric] = value;
      scores[metric] = leanScore(scoring[metric] as ScoringRule, value, metric, pieces);
    }
    this.index = leanIndex(this.#indexRule, scores);
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
    const parents = this.#parents;
    for (let at = 0; at < parents.length; ) {
      const entry = parents[at++] as number;
      const end = at + 1 + (parents[at] as number);
      let below = 0;
      for (at++; at < end; at++) below += richness[parents[at] as number] as number;
      if (this.#alwaysDistinct[entry] === 0)
        richness[entry] = Math.max(0, (richness[entry] as number) - below);
    }
  }

  #measure(form: LeanMeasure, finds: number): number {
    switch (form.kind) {
      case ANIMALS: {
        const counts = this.#counts;
        const above = weightedSum(form.entries, form.weights, counts, form.most);
        const below = form.isOfAll
          ? this.#total
          : weightedSum(form.below, form.belowWeights, counts, form.most);
        return quotient(above * form.times, below * form.belowTimes, form.whenNoneBelow);
      }
      case TAXA:
        return (
          (form.hasGroups ? this.#groupsOf(form.entries, form.groups) : this.#taxa(form.entries)) + finds
        );
      case TAXA_QUOTIENT: {
        const below = form.isOfAll ? this.#allTaxa() : this.#taxa(form.below);
        return quotient(this.#taxa(form.entries) * form.times, below, form.whenNoneBelow);
      }
      case TAXA_SUM:
        return this.#taxaSum(form) + finds;
      case DOMINANTS:
        return this.#dominants(form);
      case SHANNON:
        return this.#entropy(form) / form.scale;
      default:
        return this.#other(form.metric, this.#counts, this.#richness);
    }
  }

  #dominants({ entries, groups, groupCount, hasGroups, taxaTogether, times }: LeanMeasure): number {
    const counts = this.#counts;
    const isAll = entries.length === counts.length;
    if (isAll && !hasGroups && taxaTogether === 1)
      return this.#total === 0 ? Number.NaN : (largestOf(counts) * times) / this.#total;
    const own = this.#groups;
    const size = hasGroups ? groupCount : entries.length;
    if (hasGroups) gatherGroups(counts, entries, groups, groupCount, own);
    else gather(counts, entries, own);
    const sum = isAll ? this.#total : sumOf(own, size);
    return sum === 0 ? Number.NaN : (dominantSum(own, size, taxaTogether) * times) / sum;
  }

  #entropy({ entries, groups, groupCount, hasGroups }: LeanMeasure): number {
    const counts = this.#counts;
    const own = this.#groups;
    // All entries in their order are the counts themselves.
    if (!hasGroups && entries.length === counts.length) return entropyOf(counts, counts.length, this.#total);
    if (hasGroups) gatherGroups(counts, entries, groups, groupCount, own);
    else gather(counts, entries, own);
    const size = hasGroups ? groupCount : entries.length;
    return entropyOf(own, size, sumOf(own, size));
  }

  #allTaxa(): number {
    const richness = this.#richness;
    let taxa = 0;
    for (let i = 0; i < richness.length; i++) taxa += richness[i] as number;
    return taxa;
  }

  #taxa(entries: Int32Array): number {
    const richness = this.#richness;
    let taxa = 0;
    for (let i = 0; i < entries.length; i++) taxa += richness[entries[i] as number] as number;
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

  #taxaSum({ entries, weights, scale, isEachTaxon, result, times }: LeanMeasure): number {
    let sum = 0;
    let number = 0;
    for (let i = 0; i < entries.length; i++) {
      const richness = this.#richness[entries[i] as number] as number;
      if (richness <= 0) continue;
      // A record here stands for a whole number of taxa, so that one row brings as much as being there does.
      sum += (weights[i] as number) * (isEachTaxon ? richness : 1);
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

function quotient(above: number, below: number, whenNone: "missing" | "above-alone" | "zero"): number {
  if (below > 0) return above / below;
  if (whenNone === "missing") return Number.NaN;
  return whenNone === "zero" ? 0 : above;
}
