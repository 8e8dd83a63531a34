import type { Community } from "../../model/community.ts";
import { valueAsNumber } from "../../model/metric-value.ts";
import { compareCodePoints } from "../../model/order.ts";
import type { OtherMetric } from "../../scoring/intervals/lean-evaluator.ts";
import { LeanEvaluator } from "../../scoring/intervals/lean-evaluator.ts";
import type { LeanModel } from "../../scoring/intervals/lean-model.ts";
import type { ResampleEvaluator } from "../../scoring/intervals/resampling-job.ts";
import type { CountedPile } from "../../taxa/counted-pile.ts";
import { FinerRelation } from "../../taxa/finer.ts";
import type { SetMetric } from "../compiled-set.ts";
import type { SamplePreparer } from "../prepare-sample.ts";
import type { ScoringCase } from "../score-sample.ts";
import type { RatingNumbers } from "./general-evaluator.ts";
import { GeneralEvaluator } from "./general-evaluator.ts";
import { leanMetric } from "./lean-metrics.ts";
import { leanRecords } from "./lean-records.ts";
import { LeanScorer } from "./lean-scoring.ts";

/** What a sample is resampled with. */
export interface ChosenEvaluator {
  /** Made when the sample is resampled here. */
  readonly evaluator: () => ResampleEvaluator;
  /** The whole of it as plain numbers; undefined when it cannot leave its thread. */
  readonly model: LeanModel | undefined;
}

/** Chooses for each sample the quick road where its set and its records allow it, else the exact one. */
export class Evaluators {
  readonly #preparer: SamplePreparer;
  readonly #ratings: RatingNumbers;
  readonly #scorer: LeanScorer;
  readonly #relation: FinerRelation;
  readonly #allowsLean: boolean;

  constructor(preparer: SamplePreparer, ratings: RatingNumbers) {
    this.#preparer = preparer;
    this.#ratings = ratings;
    const { compiled } = preparer.batch;
    this.#scorer = new LeanScorer(compiled, ratings);
    this.#relation = new FinerRelation(compiled.tree);
    this.#allowsLean =
      preparer.rules.parents === "distinct" &&
      preparer.rules.batchTaxa === undefined &&
      !compiled.set.definition.index.percent_of_reference;
  }

  /**
   * @param main piles of which animals are drawn, with all that were counted
   * @param others those of the search for large and rare animals
   */
  evaluatorFor(
    one: ScoringCase,
    main: readonly CountedPile[],
    others: readonly CountedPile[],
  ): ChosenEvaluator {
    const lean = this.#allowsLean ? this.#lean(one, main, others) : undefined;
    return (
      lean ?? {
        evaluator: () => new GeneralEvaluator(this.#preparer, one, main, others, this.#ratings),
        model: undefined,
      }
    );
  }

  #lean(
    one: ScoringCase,
    main: readonly CountedPile[],
    others: readonly CountedPile[],
  ): ChosenEvaluator | undefined {
    const { batch, rules } = this.#preparer;
    const { compiled } = batch;
    const records = leanRecords(
      main,
      rules.largeRare === "none" ? [] : others,
      (taxon) => this.#preparer.countedAs(taxon),
      compiled.tree,
    );
    if (records === undefined || records.taxa.some((taxon) => this.#relation.isGroup(taxon)))
      return undefined;
    const { taxa } = records;
    const { community } = this.#preparer.assemble([...main, ...others]);
    const model: LeanModel = {
      ...records,
      entries: taxa.length,
      metrics: compiled.metrics.map(({ prepared }, at) => leanMetric(prepared.lean, at, taxa)),
      scoring: this.#scorer.scoring(one),
      index: this.#scorer.index(one.stratum),
      rareTaxa: compiled.metrics.map(({ prepared }) => prepared.rareTaxa?.(community)),
    };
    const hasOther = model.metrics.some(({ kind }) => kind === "other");
    return hasOther
      ? { evaluator: () => new LeanEvaluator(model, this.#other(one, taxa)), model: undefined }
      : { evaluator: () => new LeanEvaluator(model), model };
  }

  /** Metrics without a lean form, from the community that the counts of the entries make. */
  #other(one: ScoringCase, taxa: Int32Array): OtherMetric {
    const { metrics, tree } = this.#preparer.batch.compiled;
    const order = [...taxa.keys()].sort((a, b) =>
      compareCodePoints(tree.nameOf(taxa[a] as number), tree.nameOf(taxa[b] as number)),
    );
    return (metric, counts, richness) => {
      const kept = order.filter((entry) => (counts[entry] as number) > 0 || (richness[entry] as number) > 0);
      const community: Community = {
        taxa: Int32Array.from(kept, (entry) => taxa[entry] as number),
        counts: Float64Array.from(kept, (entry) => counts[entry] as number),
        richness: Float64Array.from(kept, (entry) => richness[entry] as number),
        total: kept.reduce((sum, entry) => sum + (counts[entry] as number), 0),
      };
      const { prepared } = metrics[metric] as SetMetric;
      return valueAsNumber(prepared.evaluate(community, one.context)) ?? Number.NaN;
    };
  }
}
