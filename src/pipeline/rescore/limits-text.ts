import { equalExact, toNumber } from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import type { Limit, Segment } from "../../model/segment.ts";

/** A threshold in one line, as "[14, 28): 5"; brackets hold the limit, parentheses leave it out. */
export function limitsText({ lower, upper, scoreAtLower, scoreAtUpper, basis, covariate }: Segment): string {
  const open = lower?.included === true ? "[" : "(";
  const close = upper?.included === true ? "]" : ")";
  const scores = equalExact(scoreAtLower, scoreAtUpper)
    ? numberText(toNumber(scoreAtLower))
    : `${numberText(toNumber(scoreAtLower))} to ${numberText(toNumber(scoreAtUpper))}`;
  const unit = basis === "value" ? "" : " percent of the reference";
  const limits = `${open}${limitText(lower, "-∞", covariate)}, ${limitText(upper, "∞", covariate)}${close}`;
  return `${limits}${unit}: ${scores}`;
}

function limitText(limit: Limit | undefined, none: string, covariate: string | undefined): string {
  if (limit === undefined) return none;
  const at = numberText(toNumber(limit.at));
  if (limit.slope === undefined) return at;
  return `${at} + ${numberText(toNumber(limit.slope))} x ${covariate}`;
}
