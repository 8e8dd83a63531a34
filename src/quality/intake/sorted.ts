import type { Finding } from "../../findings/finding.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact, numericFact } from "../../model/sample-facts.ts";
import { gridsOnTray, parseTray } from "../../subsample/tray.ts";
import { intakeFinding } from "./rule.ts";

/** How far two shares may lie apart because one of them was rounded. */
const ROUNDED = 0.005;

/**
 * What cannot be right in what the log says of the sorting: more grids than the tray has, or a share sorted that
 * its own grids contradict. The share decides the estimate of the whole sample.
 *
 * @param hasLaterTray the sample was spread again on a second tray, so that a smaller share is no contradiction
 */
export function sortedFaults(facts: SampleFacts, hasLaterTray: boolean): Finding[] {
  const grids = numericFact(facts, "grids_sorted");
  if (grids === undefined || grids <= 0) return [];
  const tray = parseTray(fact(facts, "tray") ?? "");
  if (tray === undefined) return [];
  const onTray = gridsOnTray(tray);
  const { sampleId } = facts;
  if (grids > onTray) {
    const message = `grids_sorted of ${sampleId} is ${fact(facts, "grids_sorted")}, its tray ${tray.rows}x${tray.columns} has ${onTray} grids`;
    return [intakeFinding("grids-beyond-tray", facts, "grids_sorted", message)];
  }
  const given = numericFact(facts, "fraction_sorted");
  if (given === undefined || given <= 0 || given > 1) return [];
  const share = grids / onTray;
  if (Math.abs(given - share) <= ROUNDED || (hasLaterTray && given < share)) return [];
  const message = `fraction_sorted of ${sampleId} is ${fact(facts, "fraction_sorted")}, but ${fact(facts, "grids_sorted")} of ${onTray} grids are ${share.toFixed(3)}`;
  return [intakeFinding("sorted-share-differs", facts, "fraction_sorted", message)];
}
