import type { Community } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import { add, divide, exactOf, fraction, isZero, multiply, ONE, subtract, ZERO } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import { NEEDS_WHOLE_ANIMALS, NO_ANIMAL } from "./entropy.ts";
import { exactSum, hasFractions, settled } from "./sums.ts";

/**
 * Simpson's concentration, exact. `squares`: the sum of squared shares, of animals drawn with replacement;
 * `finite`: the sum of n(n-1) / N(N-1), of animals drawn without.
 */
export type SimpsonForm = "squares" | "finite";

/** The concentration itself, 1 minus it, or 1 divided by it. */
export type SimpsonResult = "concentration" | "one-minus" | "one-over";

/** One of the six values that go by Simpson's name. */
export function simpson(community: Community, form: SimpsonForm, result: SimpsonResult): MetricValue {
  if (form === "finite" && hasFractions(community)) return missingValue(NEEDS_WHOLE_ANIMALS);
  const total = exactSum(community, () => 1);
  if (isZero(total)) return missingValue(NO_ANIMAL);
  const pairs = form === "squares" ? multiply(total, total) : multiply(total, subtract(total, ONE));
  if (isZero(pairs)) return missingValue("it needs two animals");
  const alike = form === "squares" ? sumOfSquares(community) : subtract(sumOfSquares(community), total);
  if (result === "one-over")
    return isZero(alike)
      ? missingValue("no two animals are of one taxon")
      : exactValue(settled(divide(pairs, alike), community));
  const concentration = divide(alike, pairs);
  return exactValue(
    settled(result === "concentration" ? concentration : subtract(ONE, concentration), community),
  );
}

function sumOfSquares(community: Community): Exact {
  const { counts } = community;
  let sum = 0;
  for (let i = 0; i < counts.length; i++) sum += (counts[i] as number) * (counts[i] as number);
  if (Number.isSafeInteger(sum) && !hasFractions(community)) return fraction(sum);
  return [...counts].map(exactOf).reduce((squares, count) => add(squares, multiply(count, count)), ZERO);
}
