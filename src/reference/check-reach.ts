import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { Exact } from "../model/exact.ts";
import { compareExact, exactOf, roundExact, toNumber } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import type { Segment } from "../model/segment.ts";
import { aggregate } from "../scoring/aggregate.ts";
import { classesFor, rate } from "../scoring/rate.ts";
import type { ReadSet } from "./read-set.ts";

/**
 * The worst and the best index that the scores of a set can add up to, stratum by stratum; an end that no class
 * holds is a finding. Sets whose index is a metric's value, or a percentage of a reference sample's, have no such
 * ends.
 */
export function reachFaults({ set, definition: { placeOf } }: ReadSet): Finding[] {
  const { definition } = set;
  const { index, ratings } = definition;
  const { method } = index;
  if (method === "metric" || index.percent_of_reference || set.classes.length === 0) return [];
  const seen = new Set<string>();
  return definition.strata.flatMap(({ id }) =>
    (["least", "most"] as const).flatMap((side) => {
      const parts = definition.metrics.map((use) => ({
        score: extreme(set.segments.get(use.id)?.get(id) ?? [], side),
        weight: exactOf(use.weight ?? 1),
      }));
      const exact = aggregate(parts, {
        method,
        missing: "blank",
        ...(index.scale_to === undefined ? {} : { scaleTo: exactOf(index.scale_to) }),
        ...(index.best_sum === undefined ? {} : { bestSum: exactOf(index.best_sum) }),
      });
      if (exact === undefined) return [];
      const deciding =
        ratings.on === "rounded" && index.round_to !== undefined ? roundExact(exact, index.round_to) : exact;
      if (rate(deciding, classesFor(set.classes, id), ratings.gaps).rating !== "") return [];
      const text = numberText(toNumber(deciding));
      if (seen.has(text)) return [];
      seen.add(text);
      const message = `rating classes: no class holds ${text}, the ${side === "least" ? "lowest" : "highest"} index that the scores can give in ${id}`;
      return [finding("set-gap", placeOf("ratings", "classes"), { message })];
    }),
  );
}

function extreme(segments: readonly Segment[], side: "least" | "most"): Exact | undefined {
  let found: Exact | undefined;
  for (const { scoreAtLower, scoreAtUpper } of segments) {
    for (const score of [scoreAtLower, scoreAtUpper]) {
      const order = found === undefined ? 0 : compareExact(score, found);
      if (found === undefined || (side === "least" ? order < 0 : order > 0)) found = score;
    }
  }
  return found;
}
