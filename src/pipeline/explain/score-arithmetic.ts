import type { Exact } from "../../model/exact.ts";
import { divide, equalExact, exactOf, isZero, multiply, subtract, toNumber } from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import { limitAt } from "../../scoring/limits.ts";
import { decidingValue } from "../../scoring/score-metrics.ts";
import type { MetricStep } from "../score-values.ts";

/**
 * The way from a value to its score along a straight segment, as in "0 + 10 x (25 - 8) / (34 - 8)".
 *
 * @param covariate value of a column of the sample log
 * @returns undefined for steps, for scores taken from the end of a segment, and where nothing was scored
 */
export function scoreArithmetic(
  { outcome, scored, reference, segments }: MetricStep,
  percentOf: "value-of-reference" | "reference-of-value" | undefined,
  covariate: (column: string) => Exact | undefined,
): string | undefined {
  const value = scored === undefined ? undefined : decidingValue(scored);
  if (outcome?.kind !== "scored" || outcome.how !== "inside" || value === undefined) return undefined;
  const { segment } = outcome;
  const { lower, upper, scoreAtLower: from, scoreAtUpper: to } = segment;
  if (lower === undefined || upper === undefined || equalExact(from, to)) return undefined;
  const moved = segment.covariate === undefined ? undefined : covariate(segment.covariate);
  const [low, high] = [limitAt(lower, moved), limitAt(upper, moved)];
  if (segments[0]?.basis === "value")
    return `${text(from)} ${sign(from, to)} x (${text(value)} - ${text(low)}) / (${text(high)} - ${text(low)})`;
  const other = reference === undefined ? undefined : decidingValue(reference);
  if (other === undefined) return undefined;
  const [part, whole] = percentOf === "reference-of-value" ? [other, value] : [value, other];
  if (isZero(whole)) return undefined;
  const percent = multiply(divide(part, whole), exactOf(100));
  return `100 x ${text(part)} / ${text(whole)} = ${text(percent)} percent of the reference; ${text(from)} ${sign(from, to)} x (${text(percent)} - ${text(low)}) / (${text(high)} - ${text(low)})`;
}

/** "+ 10" for a score that rises by 10 along the segment, "- 10" for one that falls. */
function sign(from: Exact, to: Exact): string {
  const rise = toNumber(subtract(to, from));
  return `${rise < 0 ? "-" : "+"} ${numberText(Math.abs(rise))}`;
}

function text(exact: Exact): string {
  return numberText(toNumber(exact));
}
