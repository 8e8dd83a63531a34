import type { Place } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import { toNumber } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { valueAsNumber } from "../../model/metric-value.ts";
import { numberText } from "../../model/number-text.ts";
import type { MetricStory } from "./metric-story.ts";
import type { AttributeTrail } from "./story.ts";

/** Why a part is what it is, in words. */
export function partHow(counted: boolean, why: string, valueFrom: string, taxon: string): string {
  return [
    counted ? "" : "takes no part",
    why,
    valueFrom === "" || valueFrom === taxon ? "" : `value of ${valueFrom}`,
  ]
    .filter((part) => part !== "")
    .join("; ");
}

/** How the value lies to the segment that gave the score. */
export function howText({ how, scoreArithmetic }: MetricStory): string {
  if (how === "clipped") return "beyond the outer segment: the score of its nearest end";
  if (how === "gap") return "in a published gap: by the set's tie rule";
  return scoreArithmetic ?? "";
}

/** What rounding made of a value; empty when nothing was rounded. */
export function roundedText({ raw, value, roundTo }: MetricStory): string {
  if (roundTo === undefined || raw.kind === "missing") return "";
  return `${valueText(raw)} rounded to ${roundTo} decimals is ${valueText(value)}`;
}

/** What was scored in place of the value itself; empty when that was the value. */
export function adjustedText({ scored, reference, segments }: MetricStory): string {
  return [
    scored === undefined ? "" : `adjusted for the covariate: ${valueText(scored)}`,
    reference === undefined || segments[0]?.basis === "value"
      ? ""
      : `the reference sample has ${valueText(reference)}`,
  ]
    .filter((part) => part !== "")
    .join("; ");
}

/** A value in digits; a missing one in words. */
export function valueText(value: MetricValue): string {
  return value.kind === "missing" ? `missing: ${value.why}` : numberText(valueAsNumber(value) as number);
}

export function exactText(value: Exact): string {
  return numberText(toNumber(value));
}

/** "sheet.csv:12" */
export function placeText({ file, line }: Place): string {
  return `${file}:${line}`;
}

/** The list that a value is from, with the source of its row where one is named. */
export function sourceText({ scheme, sourceId }: AttributeTrail): string {
  return sourceId === "" ? scheme : `${scheme}, ${sourceId}`;
}
