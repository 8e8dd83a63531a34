import { numberText } from "../../model/number-text.ts";
import type { ScoreInterval } from "../result.ts";

/** The certainty of a score in words, item by item; nothing where there is no interval. */
export function certaintyWords(interval: ScoreInterval | undefined): readonly (readonly [string, string])[] {
  if (interval === undefined) return [];
  const { of, low, high, support, confidence, resamples, sources, ratings } = interval;
  const target =
    of === "mean"
      ? "of the mean over all fixed-count draws from this jar"
      : "of another fixed-count draw from this jar";
  const ends = low === undefined || high === undefined ? "none" : `${text(low)} to ${text(high)}`;
  const shares = ratings.map(({ rating, share }) => `${rating || "no rating"} ${percent(share)}`);
  return [
    [
      "interval",
      `${ends}: ${percent(confidence)} interval ${target}, from ${resamples} resamples; in it: ${sources.join(", ")}`,
    ],
    [
      "support",
      support === undefined
        ? "none"
        : `${percent(support)} of the resamples have the same rating; all: ${shares.join(", ")}`,
    ],
  ];
}

function text(value: number): string {
  return numberText(Math.round(value * 1000) / 1000);
}

function percent(share: number): string {
  return `${numberText(Math.round(share * 1000) / 10)} percent`;
}
