import { numberText } from "../model/number-text.ts";
import type { ReportInterval } from "../report/report-data.ts";
import type { IntervalEnds, IntervalSource, ScoreInterval } from "./result.ts";

const SOURCES: Readonly<Record<IntervalSource, string>> = {
  subsampling: "subsampling",
  clumping: "clumping in the tray",
  field: "what duplicates in the field differ by",
};

/** The interval of an index in the words of a page; undefined where there is none. */
export function reportInterval(interval: ScoreInterval | undefined): ReportInterval | undefined {
  const ends = endsOf(interval);
  if (interval === undefined || ends === undefined) return undefined;
  const { of, confidence, resamples, sources, support, next } = interval;
  const about =
    of === "mean"
      ? "the mean index over all possible counts of this size from the same jar"
      : "the index of another count of this size from the same jar";
  return {
    ...ends,
    what: `${numberText(confidence * 100)} percent interval`,
    about: `The interval is about ${about}. Its spread comes from ${sources.map((one) => SOURCES[one]).join(", ")}, worked out from ${resamples} repeated draws. Errors of identification and of the thresholds are not in it.`,
    support,
    nextRating: next === undefined ? "" : next.rating === "" ? "no rating" : next.rating,
  };
}

/** Both ends, where there are two. */
export function endsOf(
  ends: Pick<IntervalEnds, "low" | "high"> | undefined,
): { readonly low: number; readonly high: number } | undefined {
  return ends?.low === undefined || ends.high === undefined ? undefined : { low: ends.low, high: ends.high };
}
