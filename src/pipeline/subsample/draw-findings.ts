import type { Finding, Place } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { numericFact } from "../../model/sample-facts.ts";
import { isFewGrids } from "../../subsample/stop-rule.ts";
import { gridsOnTray } from "../../subsample/tray.ts";
import { traysOf } from "../trays/plan-trays.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/** Too few animals although only a part of the sample was sorted, or it is not known how much was. */
export function underTarget(
  sampleId: string,
  place: Place,
  counted: number,
  target: number,
  share: number | undefined,
): Finding {
  const sorted =
    share === undefined
      ? "it is not known how much of it was sorted"
      : `${Math.round(share * 1000) / 10} percent of it was sorted`;
  return finding("under-target", place, {
    message: `sample ${sampleId} has ${counted} of ${target} animals and ${sorted}`,
    sampleId,
  });
}

/** Counts that stand for more animals than were seen cannot be drawn from. */
export function expandedCounts({ sampleId, place, piles }: SampleToDraw, target: number): Finding {
  return finding("expanded-counts", place, {
    message: `sample ${sampleId} holds expanded counts, so ${target} animals cannot be drawn from its ${piles.counted}`,
    severity: "error",
    sampleId,
  });
}

export function emptySample({ sampleId, place }: SampleToDraw): Finding {
  return finding("empty-sample", place, {
    message: `all of ${sampleId} was sorted and it holds no animal that counts`,
    sampleId,
  });
}

/** An estimate that rests on a count stopped after few grids. */
export function fewGrids(
  sampleId: string,
  place: Place,
  estimatedTotal: number,
  grids: number,
  onTray: number,
): Finding {
  return finding("few-grids", place, {
    message: `the estimated total of ${sampleId}, ${Math.round(estimatedTotal)}, rests on ${grids} of ${onTray} grids`,
    sampleId,
  });
}

/**
 * The same where the log tells how many grids of which tray were sorted.
 *
 * @returns undefined where it does not, where enough grids were sorted, and where there is nothing to estimate
 */
export function fewGridsSorted(
  sampleId: string,
  place: Place,
  facts: SampleFacts | undefined,
  estimatedTotal: number | undefined,
): Finding | undefined {
  const grids = numericFact(facts, "grids_sorted");
  if (grids === undefined || estimatedTotal === undefined || estimatedTotal === 0) return undefined;
  const [tray] = traysOf(facts, []);
  if (tray === undefined) return undefined;
  const onTray = gridsOnTray(tray);
  return isFewGrids(grids, onTray) ? fewGrids(sampleId, place, estimatedTotal, grids, onTray) : undefined;
}
