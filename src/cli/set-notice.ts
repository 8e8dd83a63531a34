import type { ReferenceSet } from "../reference/set.ts";
import { wrap } from "./wrap.ts";

/** How a set was checked, in a line. */
export const VERIFICATION_TEXT = {
  checked: "checked: records published with their answers reproduce",
  transcribed: "transcribed from the publication; not checked against published answers",
  memory: "recalled from memory, at least in part: check before use",
  invented: "invented: not for any real stream",
} as const;

/** What must be said whenever a set is used: how its numbers were checked and what they hold for. */
export function setNotice(set: ReferenceSet): string[] {
  const { id, version, verification } = set.definition;
  const { based_on: origin, ratings, other_ratings: others } = set.definition;
  const calibratedFor = set.definition.calibrated_for.replace(/\.?$/, ".");
  return [
    `set ${id} ${version} (${VERIFICATION_TEXT[verification]})`,
    ...wrap(
      `made for: ${calibratedFor} Outside that region, season, gear and level a score means nothing without the responsible agency's method; it is no legal determination.`,
      100,
    ).map((line) => `  ${line}`),
    ...(origin === undefined
      ? []
      : [
          `  a copy of ${origin.id} ${origin.version}: how that was checked says nothing of what was changed since`,
        ]),
    ...set.standIns.map(
      ({ attribute, from, insteadOf }) =>
        `  ${attribute.replaceAll("_", " ")} from ${from}, NOT the method's own list (${insteadOf}): these scores are not the method's own`,
    ),
    ...(others.length === 0 ? [] : [`  class table ${ratings.id}: ${ratings.title ?? "the usual classes"}`]),
  ];
}
