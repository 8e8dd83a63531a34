import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import { exactOf, roundExact, toNumber } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import type { SampleScore, ScoreInterval } from "../pipeline/result.ts";
import type { ReferenceSet } from "../reference/set.ts";
import { painter, wantsColour } from "./colour.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { colourOption } from "./options/messages.ts";

/** A table of scores for a person: what one wants to see first, rounded for the eye, the rating in words. */
export interface ScoreView {
  readonly columns: readonly OutputColumn[];
  readonly row: (score: SampleScore) => OutputRow;
}

/** The view of a set's scores on a terminal. Colour repeats what the rating's words and place on the scale say. */
export function scoreView(
  context: CommandContext,
  options: OptionValues,
  set: ReferenceSet,
  hasIntervals = false,
): ScoreView {
  const paint = painter(wantsColour(options.get(colourOption) ?? "auto", context.env, context.stdout));
  const ratings = set.definition.ratings.classes.map((one) => one.rating);
  const tone = (rating: string): ((text: string) => string) => {
    const at = ratings.indexOf(rating);
    if (at < 0) return (text) => text;
    const share = ratings.length < 2 ? 0 : at / (ratings.length - 1);
    return share < 0.34 ? paint.green : share < 0.67 ? paint.yellow : paint.red;
  };
  const text = (name: string): OutputColumn => ({ name, kind: "text" });
  const number = (name: string): OutputColumn => ({ name, kind: "number" });
  return {
    columns: [
      text("sample"),
      text("site"),
      text("date"),
      text("stratum"),
      number("animals"),
      number("index"),
      { ...text("rating"), paint: (cell) => tone(cell.trim())(cell) },
      ...(hasIntervals ? [text("interval"), text("support"), text("next most likely")] : []),
      { ...text("doubts"), paint: paint.dim },
    ],
    row: (score) => [
      score.sampleId,
      score.siteId,
      score.collectedOn,
      score.stratum,
      score.individualsScored ?? null,
      score.index === undefined ? null : Number(numberText(toNumber(roundExact(score.index, 2)))),
      score.rating === "" ? score.status : score.rating,
      ...(hasIntervals ? certaintyCells(score.interval) : []),
      score.flags.join(", "),
    ],
  };
}

/** The interval in words, the support of the rating, and the rating that comes next. */
function certaintyCells(interval: ScoreInterval | undefined): OutputRow {
  if (interval?.low === undefined || interval.high === undefined) return ["", "", ""];
  const { low, high, support, next } = interval;
  const shown = (value: number) => numberText(toNumber(roundExact(exactOf(value), 2)));
  const percent = (share: number) => {
    if (share > 0 && share < 0.005) return "under 1 %";
    return share < 1 && share >= 0.995 ? "over 99 %" : `${numberText(Math.round(share * 100))} %`;
  };
  return [
    `${shown(low)} to ${shown(high)}`,
    support === undefined ? "" : percent(support),
    next === undefined ? "" : `${next.rating || "no rating"} (${percent(next.share)})`,
  ];
}
