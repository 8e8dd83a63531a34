import { at } from "../../model/at.ts";
import type { Community, SampleContext } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import { divide, exactOf, isZero, multiply, roundExact, ZERO } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { CompiledFilter, TaxonFilter } from "../filter.ts";
import { exactSum, settled, sumWhere } from "../measures/sums.ts";
import { animalPart, contributionsOf } from "./contributions.ts";

/** Animals as counted, expanded to the whole sample, or per square metre. */
export type AbundanceResult = "counted" | "whole-sample" | "per-square-metre";

/** Shares and areas come as decimal numbers, so what is divided by them is rounded to this many decimals. */
const DECIMALS = 9;

/**
 * Number of animals that pass the filters.
 *
 * The whole sample is the estimated total that was built stage by stage where there is one, of which the group
 * has its share of the animals; otherwise the count is divided by the fraction sorted.
 *
 * @param fractionIfUnknown fraction sorted of samples of which none is known
 */
export function abundanceForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  result: AbundanceResult,
  fractionIfUnknown: number | undefined,
): PreparedMetric {
  const filter = kit.filter(...filters);
  const attribute = filter.attributes[0];
  return {
    attributes: filter.attributes,
    evaluate(community, context) {
      if (result === "counted") return exactValue(settled(animalsOf(community, filter), community));
      return expanded(community, filter, context, result, fractionIfUnknown);
    },
    contributions: (community) =>
      contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => animalPart(community, filter, entry, taxon),
      ),
  };
}

function animalsOf(community: Community, filter: CompiledFilter): Exact {
  const sum = sumWhere(community, filter.mask);
  return Number.isNaN(sum) ? exactSum(community, (taxon) => at(filter.mask, taxon)) : exactOf(sum);
}

function expanded(
  community: Community,
  filter: CompiledFilter,
  context: SampleContext,
  result: "whole-sample" | "per-square-metre",
  fractionIfUnknown: number | undefined,
): MetricValue {
  const whole = wholeSample(community, filter, context, fractionIfUnknown);
  if (whole === undefined) return missingValue("the fraction of the sample that was sorted is not known");
  if (result === "whole-sample") return exactValue(roundExact(whole, DECIMALS));
  const area = context.areaSampledM2;
  if (area === undefined || !(area > 0)) return missingValue("the area sampled is not known");
  return exactValue(roundExact(divide(whole, exactOf(area)), DECIMALS));
}

function wholeSample(
  community: Community,
  filter: CompiledFilter,
  context: SampleContext,
  fractionIfUnknown: number | undefined,
): Exact | undefined {
  const part = animalsOf(community, filter);
  if (context.estimatedTotal !== undefined) {
    const all = exactSum(community, () => 1);
    return isZero(all) ? ZERO : divide(multiply(part, exactOf(context.estimatedTotal)), all);
  }
  const fraction = context.fractionSorted ?? fractionIfUnknown;
  return fraction === undefined || !(fraction > 0) ? undefined : divide(part, exactOf(fraction));
}
