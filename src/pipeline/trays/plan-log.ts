import type { FindingSink } from "../../findings/collector.ts";
import { wholeFile } from "../../findings/finding.ts";
import type { SampleLog } from "../../sheets/sample-log.ts";
import { isHeldBack } from "../log-checks.ts";
import type { TrayChoices, TrayPlan } from "./plan-trays.ts";
import { planTrays } from "./plan-trays.ts";

/** A sample that can be spread. */
export interface PlannedSample extends TrayPlan {
  /** Not all of its jars are in, so it must not be spread yet. */
  readonly isHeldBack: boolean;
}

/**
 * Plans the picking of every sample of a log, in its order. Samples with a fault in their row and samples whose
 * tray is not known are left out, with a finding.
 */
export function planLog(log: SampleLog, choices: TrayChoices, findings: FindingSink): PlannedSample[] {
  return log.order.flatMap((sampleId) => {
    if (log.refused.has(sampleId)) return [];
    const facts = log.samples.get(sampleId);
    const plan = planTrays(sampleId, facts, wholeFile(log.file), choices, findings);
    return plan === undefined ? [] : [{ ...plan, isHeldBack: isHeldBack(sampleId, facts, findings) }];
  });
}
