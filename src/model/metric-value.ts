import type { Exact } from "./exact.ts";
import { toNumber } from "./exact.ts";

/**
 * The value of a metric: an exact fraction (counts, shares, means), a real number (logarithms and roots), or
 * missing with the reason in words.
 */
export type MetricValue =
  | { readonly kind: "exact"; readonly value: Exact }
  | { readonly kind: "real"; readonly value: number }
  | { readonly kind: "missing"; readonly why: string };

export function exactValue(value: Exact): MetricValue {
  return { kind: "exact", value };
}

/** A real number; a value that is not finite is missing, since nothing that follows could use it. */
export function realValue(
  value: number,
  whyIfNotFinite = "the formula has no finite value here",
): MetricValue {
  return Number.isFinite(value) ? { kind: "real", value } : { kind: "missing", why: whyIfNotFinite };
}

export function missingValue(why: string): MetricValue {
  return { kind: "missing", why };
}

/** The value as a floating-point number, undefined when it is missing. */
export function valueAsNumber(value: MetricValue): number | undefined {
  if (value.kind === "missing") return undefined;
  return value.kind === "exact" ? toNumber(value.value) : value.value;
}
