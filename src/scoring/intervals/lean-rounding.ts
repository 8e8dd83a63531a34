import { SLACK } from "./piece-table.ts";

/** Rounds half away from zero as `roundExact` does; a value very close to a half is one. */
export function roundLean(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  const scaled = Math.abs(value) * scale;
  const rounded = Math.floor(scaled + 0.5 + SLACK * Math.max(1, scaled)) / scale;
  return value < 0 ? -rounded : rounded;
}
