import { exactOf, multiply, subtract, toNumber } from "../../model/exact.ts";
import { valueAsNumber } from "../../model/metric-value.ts";
import { segmentsOf } from "../../reference/set.ts";
import type { LeanIndex, LeanScoring } from "../../scoring/intervals/lean-model.ts";
import type { PieceTable } from "../../scoring/intervals/piece-table.ts";
import { cutTable, scoreTable } from "../../scoring/intervals/piece-table.ts";
import { classesFor, rate } from "../../scoring/rate.ts";
import { scoreValue } from "../../scoring/segment-score.ts";
import type { CompiledSet } from "../compiled-set.ts";
import type { ScoringCase } from "../score-sample.ts";
import { covariateOf, referenceValue } from "../score-values.ts";
import type { RatingNumbers } from "./general-evaluator.ts";

/** Makes the scoring of a set ready for samples in plain numbers; tables without a covariate are made once. */
export class LeanScorer {
  readonly #compiled: CompiledSet;
  readonly #ratings: RatingNumbers;
  readonly #tables = new Map<string, PieceTable>();
  readonly #indices = new Map<string, LeanIndex>();

  constructor(compiled: CompiledSet, ratings: RatingNumbers) {
    this.#compiled = compiled;
    this.#ratings = ratings;
  }

  scoring(one: ScoringCase): LeanScoring[] {
    const { set } = this.#compiled;
    return set.definition.metrics.map((use): LeanScoring => {
      const decimals = use.round_to ?? -1;
      const plain = { less: 0, decimals, percent: 0, reference: 0, table: undefined } as const;
      if (!set.segments.has(use.id)) return plain;
      const { adjust } = use;
      const covariate = adjust && covariateOf(one.facts, adjust.covariate);
      const less =
        adjust === undefined
          ? 0
          : covariate === undefined
            ? Number.NaN
            : toNumber(multiply(exactOf(adjust.slope), subtract(covariate, exactOf(adjust.at))));
      const table = this.#table(use, one);
      const [first] = segmentsOf(set, use.id, one.stratum) ?? [];
      if (first === undefined || first.basis === "value") return { ...plain, less, table };
      const reference = referenceValue(use, one.reference);
      return {
        less,
        decimals,
        percent: use.percent_of === "reference-of-value" ? -1 : 1,
        reference: (reference && valueAsNumber(reference)) ?? Number.NaN,
        table,
      };
    });
  }

  #table(use: CompiledSet["set"]["definition"]["metrics"][number], one: ScoringCase): PieceTable {
    const { set } = this.#compiled;
    const segments = segmentsOf(set, use.id, one.stratum) ?? [];
    const column = segments[0]?.covariate;
    const key = `${one.stratum}\n${use.id}`;
    const known = column === undefined ? this.#tables.get(key) : undefined;
    if (known !== undefined) return known;
    const covariate = column === undefined ? undefined : covariateOf(one.facts, column);
    const rule = { segments, clip: set.definition.index.clip_scores, gapRule: use.tie_rule };
    const isScored = segments.length > 0 && (column === undefined || covariate !== undefined);
    const table = isScored
      ? scoreTable(segments, covariate, (value) => scoreValue(value, rule, covariate))
      : cutTable([], () => ({ from: Number.NaN, rise: 0, piece: -1 }));
    if (column === undefined) this.#tables.set(key, table);
    return table;
  }

  index(stratum: string): LeanIndex {
    const known = this.#indices.get(stratum);
    if (known !== undefined) return known;
    const { definition, classes: all } = this.#compiled.set;
    const { index, ratings, metrics } = definition;
    const classes = classesFor(all, stratum);
    const limits = classes.flatMap(({ lower, upper }) =>
      [lower, upper].flatMap((limit) => (limit === undefined ? [] : [limit.at])),
    );
    const made: LeanIndex = {
      method: index.method,
      metric: metrics.findIndex((use) => use.id === index.metric),
      weights: Float64Array.from(metrics, (use) => use.weight ?? 1),
      leaveOut: index.missing_metric === "leave-out",
      scale: (index.scale_to ?? Number.NaN) / (index.best_sum ?? Number.NaN),
      decimals: ratings.on === "rounded" ? (index.round_to ?? -1) : -1,
      classes: cutTable(limits, (value) => ({
        from: 0,
        rise: 0,
        piece: this.#ratings.numberOf(rate(value, classes, ratings.gaps).rating),
      })),
    };
    this.#indices.set(stratum, made);
    return made;
  }
}
