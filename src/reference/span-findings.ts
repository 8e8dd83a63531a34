import type { Finding, Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { Exact } from "../model/exact.ts";
import { equalExact, fraction, toNumber } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { RatingClass, Segment } from "../model/segment.ts";
import type { SpanFault } from "../scoring/check-spans.ts";
import { findSpanFaults } from "../scoring/check-spans.ts";
import type { Span } from "../scoring/limits.ts";
import { classesFor } from "../scoring/rate.ts";
import type { Thresholds } from "./read-thresholds.ts";

/**
 * Gaps and overlaps between the segments of every scoring rule, with the exact values. A gap that the set keeps
 * as published is a note, any other a warning. Strata with the same rows are reported once.
 */
export function thresholdFaults(
  definition: SetDefinition,
  thresholds: Thresholds,
  placeAt: (line: number) => Place,
): Finding[] {
  return definition.metrics.flatMap((use) => {
    const seen = new Set<string>();
    const step = stepOf(use.round_to);
    return [...(thresholds.get(use.id) ?? new Map<string, readonly Segment[]>())].flatMap(
      ([stratum, segments]) =>
        findSpanFaults(segments, step).flatMap((fault) => {
          const lines = `${fault.below.line} ${fault.above.line} ${fault.kind}`;
          if (seen.has(lines)) return [];
          seen.add(lines);
          const where = definition.strata.length === 1 ? use.id : `${use.id} in ${stratum}`;
          const asPublished = fault.kind === "gap" && use.as_published === "gap";
          const rule = asPublished ? `, as published; tie rule: ${use.tie_rule}` : "";
          return [
            spanFinding(fault, placeAt(fault.above.line), where, asPublished, {
              below: `line ${fault.below.line}`,
              above: `line ${fault.above.line}`,
              rule,
            }),
          ];
        }),
    );
  });
}

/** Gaps and overlaps between the classes of the rating, for every stratum. */
export function classFaults(
  definition: SetDefinition,
  table: Pick<SetDefinition["ratings"], "on" | "gaps"> & {
    readonly title: string;
    readonly round_to?: number | undefined;
  },
  classes: readonly RatingClass[],
  place: Place,
): Finding[] {
  const seen = new Set<string>();
  const step = table.on === "rounded" ? stepOf(table.round_to) : undefined;
  return definition.strata.flatMap(({ id }) =>
    findSpanFaults(classesFor(classes, id), step).flatMap((fault) => {
      const key = `${classes.indexOf(fault.below)} ${classes.indexOf(fault.above)}`;
      if (seen.has(key)) return [];
      seen.add(key);
      const deliberate = fault.kind === "gap" && table.gaps === "between";
      return [
        spanFinding(fault, place, table.title, deliberate, {
          below: `"${fault.below.rating}"`,
          above: `"${fault.above.rating}"`,
          rule: deliberate ? ", deliberately; the rating then names both" : "",
        }),
      ];
    }),
  );
}

/** The step of values rounded to so many decimals; undefined when they are not rounded. */
function stepOf(decimals: number | undefined): Exact | undefined {
  return decimals === undefined ? undefined : fraction(1, 10 ** decimals);
}

function spanFinding<S extends Span>(
  fault: SpanFault<S>,
  place: Place,
  where: string,
  isStated: boolean,
  words: { readonly below: string; readonly above: string; readonly rule: string },
): Finding {
  const what = stretch(fault);
  if (fault.kind === "overlap") {
    return finding("set-overlap", place, {
      message: `${where}: ${what} belongs to both ${words.below} and ${words.above}`,
    });
  }
  return finding("set-gap", place, {
    message: `${where}: ${what} belongs to no class between ${words.below} and ${words.above}${words.rule}`,
    ...(isStated ? { severity: "note", hint: "" } : {}),
  });
}

function stretch({ from, to }: SpanFault<Span>): string {
  if (from === undefined) return to === undefined ? "every value" : `everything up to ${textOf(to)}`;
  if (to === undefined) return `everything from ${textOf(from)}`;
  return equalExact(from, to) ? textOf(from) : `what lies between ${textOf(from)} and ${textOf(to)}`;
}

function textOf(value: Exact): string {
  return numberText(toNumber(value));
}
