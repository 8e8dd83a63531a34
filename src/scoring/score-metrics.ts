import type { Exact } from "../model/exact.ts";
import { divide, exactOf, isZero, multiply, roundExact } from "../model/exact.ts";
import type { MetricValue } from "../model/metric-value.ts";
import { exactValue } from "../model/metric-value.ts";
import { printedExact } from "../model/printed-number.ts";
import type { Segment } from "../model/segment.ts";
import type { GapRule, ScoreOutcome } from "./segment-score.ts";
import { scoreValue } from "./segment-score.ts";

/**
 * The exact number that limits are compared with. A real number (a logarithm, a root) is taken as it is
 * printed, to 12 significant digits, so that 2.8600000000000003 is the 2.86 it stands for.
 */
export function decidingValue(value: MetricValue): Exact | undefined {
  if (value.kind === "missing") return undefined;
  if (value.kind === "exact") return value.value;
  return printedExact(value.value);
}

/** Rounds a metric value as the set says, half away from zero; a missing value stays missing. */
export function roundMetric(value: MetricValue, decimals: number | undefined): MetricValue {
  if (decimals === undefined) return value;
  const exact = decidingValue(value);
  return exact === undefined ? value : exactValue(roundExact(exact, decimals));
}

/** Everything that scoring one metric of one sample needs. */
export interface MetricScoring {
  readonly value: MetricValue;
  /** From low to high, of one stratum. */
  readonly segments: readonly Segment[];
  readonly clip: boolean;
  readonly gapRule?: GapRule | undefined;
  /** The same metric of the reference sample, for segments on a percentage of it. */
  readonly referenceValue?: MetricValue | undefined;
  /** Which way round the percentage is taken: the site by the reference, or the reference by the site. */
  readonly percentOf?: "value-of-reference" | "reference-of-value" | undefined;
  /** The number that moves limits with a slope; undefined when the log does not give it. */
  readonly covariate?: (column: string) => Exact | undefined;
}

export type MetricScore =
  | ScoreOutcome
  | { readonly kind: "unscored"; readonly why: "missing" | "no-reference" | "no-covariate" };

/** Scores one metric: the value or its percentage of the reference, against segments moved by the covariate. */
export function scoreMetric(scoring: MetricScoring): MetricScore {
  const value = decidingValue(scoring.value);
  if (value === undefined) return { kind: "unscored", why: "missing" };
  const first = scoring.segments[0];
  if (first === undefined) return { kind: "unscored", why: "beyond" };
  const basis = compared(value, scoring);
  if (basis === undefined) return { kind: "unscored", why: "no-reference" };
  let covariate: Exact | undefined;
  if (first.covariate !== undefined) {
    covariate = scoring.covariate?.(first.covariate);
    if (covariate === undefined) return { kind: "unscored", why: "no-covariate" };
  }
  return scoreValue(basis, scoring, covariate);
}

/** The number that the limits are compared with: the value, or its percentage of the reference's where there is one. */
export function comparedValue(
  scoring: Pick<MetricScoring, "value" | "segments" | "referenceValue" | "percentOf">,
): Exact | undefined {
  const value = decidingValue(scoring.value);
  return value === undefined ? undefined : compared(value, scoring);
}

function compared(
  value: Exact,
  scoring: Pick<MetricScoring, "segments" | "referenceValue" | "percentOf">,
): Exact | undefined {
  const isPercent = scoring.segments[0]?.basis === "percent-of-reference";
  return isPercent ? percentOfReference(value, scoring) : value;
}

function percentOfReference(
  value: Exact,
  scoring: Pick<MetricScoring, "referenceValue" | "percentOf">,
): Exact | undefined {
  const reference = scoring.referenceValue === undefined ? undefined : decidingValue(scoring.referenceValue);
  if (reference === undefined) return undefined;
  const [part, whole] = scoring.percentOf === "reference-of-value" ? [reference, value] : [value, reference];
  return isZero(whole) ? undefined : multiply(divide(part, whole), exactOf(100));
}
