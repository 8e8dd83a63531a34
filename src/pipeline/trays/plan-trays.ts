import type { FindingSink } from "../../findings/collector.ts";
import type { Place } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact, numericFact } from "../../model/sample-facts.ts";
import type { SampleTrays } from "../../subsample/sample-trays.ts";
import { sampleTrays } from "../../subsample/sample-trays.ts";
import type { StopRule } from "../../subsample/stop-rule.ts";
import { targetRange } from "../../subsample/target-range.ts";
import type { Tray } from "../../subsample/tray.ts";
import { parseTray } from "../../subsample/tray.ts";
import { placeOfFact } from "../log-checks.ts";

/** The target where neither the user nor the log names one (Barbour et al. 1999, chapter 7.3.1: 200 animals). */
export const USUAL_TARGET = 200;

/** What holds for all samples of a batch. */
export interface TrayChoices extends Omit<StopRule, "range"> {
  /** Shapes of the first tray and of later ones; the log's tray comes before the first of them. */
  readonly trays: readonly Tray[];
  /** For every sample; the log's target, else 200, when left out. */
  readonly target: number | undefined;
  readonly within: Exact;
  readonly seed: string;
  readonly algorithm: string | undefined;
}

/** The trays of one sample and the rule by which they are picked. */
export interface TrayPlan {
  readonly sampleId: string;
  readonly facts: SampleFacts | undefined;
  readonly trays: SampleTrays;
  readonly rule: StopRule;
}

/**
 * Plans the picking of one sample: its trays with the random orders of their grids, and its target.
 *
 * @param place where a finding points when the log does not know the sample
 * @returns undefined, with the finding no-tray, when the shape of its tray is not known
 */
export function planTrays(
  sampleId: string,
  facts: SampleFacts | undefined,
  place: Place,
  choices: TrayChoices,
  findings: FindingSink,
): TrayPlan | undefined {
  const shapes = traysOf(facts, choices.trays);
  if (shapes.length === 0) {
    findings.add(
      finding("no-tray", facts === undefined ? place : placeOfFact(facts, "tray"), {
        message: `the tray of sample ${sampleId} is not known`,
        sampleId,
      }),
    );
    return undefined;
  }
  const { stopAt, atLeast, lastGrid, within } = choices;
  const target = choices.target ?? numericFact(facts, "target") ?? USUAL_TARGET;
  return {
    sampleId,
    facts,
    trays: sampleTrays(shapes, choices.seed, sampleId, choices.algorithm),
    rule: { range: targetRange(target, within), stopAt, atLeast, lastGrid },
  };
}

/** The trays of a sample, the first one first: the log's own, else the first of those given. */
export function traysOf(facts: SampleFacts | undefined, given: readonly Tray[]): readonly Tray[] {
  const own = parseTray(fact(facts, "tray") ?? "");
  return own === undefined ? given : [own, ...given.slice(1)];
}
