import { at } from "../../model/at.ts";
import type { CompiledAttribute } from "../../model/attribute-lookup.ts";
import type { Community } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import { divide, fraction, isZero, multiply, toNumber } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import { numberText } from "../../model/number-text.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { CompiledFilter, TaxonFilter } from "../filter.ts";
import { rareScoring } from "../measures/rare-taxa.ts";
import type { AbundanceClass, ScoreSum } from "../measures/scores.ts";
import { classOf, sumByClass, sumOfScores } from "../measures/scores.ts";
import { contributionsOf, type Part, taxonPart } from "./contributions.ts";

/** What is made of the sum and the number of scoring taxa. */
export type ScoreResult = "sum" | "number" | "average";

const NO_SCORING_TAXON = "no taxon of the sample has a score";

/** The value of a result; an average is taken `times` over (20 in the Macroinvertebrate Community Index). */
export function scoreValue({ sum, weight }: ScoreSum, result: ScoreResult, times: Exact): MetricValue {
  if (result === "sum") return exactValue(sum);
  if (result === "number") return exactValue(weight);
  if (isZero(weight)) return missingValue(NO_SCORING_TAXON);
  return exactValue(multiply(divide(sum, weight), times));
}

/** Sum, number or average of the scores of the taxa present, each taxon once. */
export function scoresForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  result: ScoreResult,
  times: Exact,
): PreparedMetric {
  const attribute = kit.attribute("tolerance");
  const filter = kit.filter(...filters);
  const scaled = Float64Array.from(attribute.scaled, (value, taxon) =>
    attribute.has[taxon] === 1 && filter.mask[taxon] === 1 ? value : Number.NaN,
  );
  const scores = scaled.map((value) => value / attribute.scale);
  const ones = scaled.map((value) => (Number.isNaN(value) ? value : 1));
  return {
    attributes: [...new Set(["tolerance" as const, ...filter.attributes])],
    // An average does not grow with the number of taxa.
    ...(result === "average"
      ? {}
      : { rareTaxa: (community) => rareScoring(community, result === "sum" ? scores : ones) }),
    lean: {
      kind: "taxa-sum",
      weights: scaled,
      scale: attribute.scale,
      each: "presence",
      result,
      times: toNumber(times),
    },
    evaluate: (community) => scoreValue(sumOfScores(community, attribute, filter.mask), result, times),
    contributions: (community) =>
      contributionsOf(community, attribute, (entry, taxon) =>
        scoringPart(community, filter, attribute, entry, taxon),
      ),
  };
}

/** Average of the scores weighted by abundance class. */
export function classWeightedForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  classes: readonly AbundanceClass[],
): PreparedMetric {
  const attribute = kit.attribute("tolerance");
  const filter = kit.filter(...filters);
  const starts = classes.map(({ from }) => from);
  checkRising(kit, "classes", starts);
  const scoreOf = (taxon: number) =>
    attribute.has[taxon] === 1 ? fraction(at(attribute.scaled, taxon), attribute.scale) : undefined;
  return {
    attributes: [...new Set(["tolerance" as const, ...filter.attributes])],
    evaluate: (community) =>
      scoreValue(sumByClass(community, filter.mask, classes, scoreOf), "average", fraction(1)),
    contributions: (community) =>
      contributionsOf(community, attribute, (entry, taxon) => {
        const part = scoringPart(community, filter, attribute, entry, taxon);
        if (!part.counted) return part;
        const weight = classes[classOf(at(community.counts, entry), starts)]?.weight;
        return weight === undefined
          ? { counted: false, why: TOO_FEW }
          : { counted: true, why: `weight ${numberText(weight)} by its class of abundance` };
      }),
  };
}

export const TOO_FEW = "fewer animals than the lowest class of abundance";

/** Reports classes whose lower ends do not rise. */
export function checkRising(kit: PrepareKit, setting: string, starts: readonly number[]): void {
  const falls = starts.some((start, i) => i > 0 && start <= at(starts, i - 1));
  if (falls) kit.problem(`setting "${setting}" must stand in rising order`);
}

function scoringPart(
  community: Community,
  filter: CompiledFilter,
  attribute: CompiledAttribute,
  entry: number,
  taxon: number,
): Part {
  const part = taxonPart(community, filter, entry, taxon);
  if (!part.counted) return part;
  return attribute.has[taxon] === 1
    ? { counted: true }
    : { counted: false, why: `no score in ${attribute.scheme.scheme}` };
}
