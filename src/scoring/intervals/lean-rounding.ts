import { SLACK } from "./piece-table.ts";

/** Powers of ten by exponent; to work one out takes longer than all the rest. */
const POWERS = Float64Array.from({ length: 11 }, (_, exponent) => 10 ** exponent);

/**
 * Rounds half away from zero as `roundExact` does; a value very close to a half is one.
 *
 * @param decimals whole number from 0 to 10, which is the most that a set can ask for
 */
export function roundLean(value: number, decimals: number): number {
  const scale = POWERS[decimals] as number;
  const scaled = Math.abs(value) * scale;
  const rounded = Math.floor(scaled + 0.5 + SLACK * Math.max(1, scaled)) / scale;
  return value < 0 ? -rounded : rounded;
}
