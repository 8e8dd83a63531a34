import { FindingCollector } from "../../findings/collector.ts";
import type { Finding, Place } from "../../findings/finding.ts";
import { finding, wholeFile } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import { exactOf, toNumber } from "../../model/exact.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact, numericFact } from "../../model/sample-facts.ts";
import type { LoggedPick, PickLog } from "../../sheets/pick-log.ts";
import type { SampleLog } from "../../sheets/sample-log.ts";
import { densityPerM2 } from "../../subsample/expansion.ts";
import type { TrayProgress } from "../../subsample/tray-progress.ts";
import { trayProgress } from "../../subsample/tray-progress.ts";
import { flagsOf } from "../flags.ts";
import { isHeldBack } from "../log-checks.ts";
import { nextStepText, partsToPick } from "./next-step-text.ts";
import { pickFinding } from "./pick-findings.ts";
import type { TrayChoices, TrayPlan } from "./plan-trays.ts";
import { planTrays } from "./plan-trays.ts";

/**
 * Where a sample stands: pick on (`go-on`), the last grid must be spread and split (`split-last-grid`), all
 * grids picked so far must go on to another tray (`next-tray`), finished (`stop`), everything sorted with enough
 * animals for the range (`all-sorted`), with too few (`below-target`) or without any (`empty`), or not to be
 * told because of a fault (`refused`).
 */
export type TrayState =
  | "go-on"
  | "split-last-grid"
  | "next-tray"
  | "stop"
  | "all-sorted"
  | "below-target"
  | "empty"
  | "refused";

/** One sample of the status. */
export interface TrayStatus {
  readonly sampleId: string;
  readonly siteId: string;
  readonly state: TrayState;
  /** What to do, in a sentence. */
  readonly instruction: string;
  /** Undefined for a refused sample. */
  readonly progress: TrayProgress | undefined;
  /** The parts of a split grid still to be picked, in their order. */
  readonly parts: readonly number[] | undefined;
  /** Estimated total by the area of the log, animals per square metre. */
  readonly individualsPerM2: number | undefined;
  readonly flags: readonly FindingCode[];
}

/**
 * Says of every sample of a batch how far its picking has come: those of the log in its order, then those that
 * only the pick log knows.
 */
export function* trayStatus(
  log: SampleLog,
  picks: PickLog,
  choices: TrayChoices,
): Generator<{ readonly status: TrayStatus; readonly findings: readonly Finding[] }> {
  for (const sampleId of [...log.order, ...[...picks.samples.keys()].filter((id) => !log.samples.has(id))]) {
    const findings = new FindingCollector();
    const status = statusOf(sampleId, log, picks, choices, findings);
    yield { status, findings: findings.all };
  }
}

function statusOf(
  sampleId: string,
  log: SampleLog,
  picks: PickLog,
  choices: TrayChoices,
  findings: FindingCollector,
): TrayStatus {
  const facts = log.samples.get(sampleId);
  const own = picks.samples.get(sampleId) ?? [];
  const first = own[0]?.place ?? wholeFile(picks.file);
  if (facts === undefined) {
    findings.add(
      finding("not-in-log", first, {
        message: `sample ${sampleId} was picked and has no row in the sample log`,
        hint: "add its row to the sample log, or correct the sample id in the pick log",
        sampleId,
      }),
    );
  }
  const refused = (instruction: string, codes: readonly FindingCode[]): TrayStatus => ({
    sampleId,
    siteId: fact(facts, "site_id") ?? "",
    state: "refused",
    instruction,
    progress: undefined,
    parts: undefined,
    individualsPerM2: undefined,
    flags: flagsOf(findings.all, codes),
  });
  const inLog = log.refused.get(sampleId) ?? [];
  if (inLog.length > 0) return refused("correct its row of the sample log first", inLog);
  const inPicks = picks.refused.get(sampleId) ?? [];
  if (inPicks.length > 0) return refused("correct its rows of the pick log first", inPicks);
  const plan = planTrays(sampleId, facts, first, choices, findings);
  if (plan === undefined) return refused("say which tray it lies on", []);
  isHeldBack(sampleId, facts, findings);
  const progress = trayProgress(own, plan.trays, plan.rule);
  for (const problem of progress.problems) findings.add(pickFinding(sampleId, problem, own, first));
  if (progress.next.kind === "unclear") return refused("correct its rows of the pick log first", []);
  return {
    ...refused(nextStepText(progress, plan.rule, plan.trays), []),
    state: stateOf(progress),
    progress,
    parts: partsToPick(progress.next, plan.trays),
    individualsPerM2: density(progress, facts),
    flags: flagsOf(findings.all, noteEnd(plan, progress, lastPlace(own, first), findings)),
  };
}

function stateOf({ next, animals }: TrayProgress): TrayState {
  switch (next.kind) {
    case "pick-grid":
    case "pick-part":
      return "go-on";
    case "split-grid":
      return "split-last-grid";
    case "next-tray":
      return "next-tray";
    case "unclear":
      return "refused";
    case "done":
      if (next.outcome === "all-sorted") return "all-sorted";
      if (next.outcome === "all-sorted-below") return animals === 0 ? "empty" : "below-target";
      return "stop";
  }
}

/** What is to be said of a finished sample; the codes go beside its numbers although they are only notes. */
function noteEnd(
  { sampleId, rule }: TrayPlan,
  progress: TrayProgress,
  place: Place,
  findings: FindingCollector,
): FindingCode[] {
  const { next, animals, expansion, hasFewGrids, levels } = progress;
  if (next.kind !== "done") return [];
  const codes: FindingCode[] = [];
  const note = (code: FindingCode, message: string) => {
    findings.add(finding(code, place, { message, sampleId }));
    codes.push(code);
  };
  const { lower, upper } = rule.range;
  if (next.outcome === "over")
    note("over-range", `sample ${sampleId} has ${animals} animals; ${lower} to ${upper} were asked for`);
  if (next.outcome === "all-sorted-below" && animals === 0)
    note("empty-sample", `all of ${sampleId} was sorted and no animal was found`);
  if (hasFewGrids && expansion !== undefined && (next.outcome === "within" || next.outcome === "over")) {
    const grids = levels.map(
      (level) => `${level.picked.length + level.moved.length} of ${level.gridsOnTray} grids`,
    );
    note(
      "few-grids",
      `the estimated total of ${sampleId}, ${Math.round(toNumber(expansion.estimatedTotal))}, rests on ${grids.join(" and ")}`,
    );
  }
  return codes;
}

function lastPlace(picks: readonly LoggedPick[], otherwise: Place): Place {
  return picks.findLast((pick) => pick.picked !== undefined)?.place ?? otherwise;
}

function density({ expansion }: TrayProgress, facts: SampleFacts | undefined): number | undefined {
  const area = numericFact(facts, "area_sampled_m2");
  if (expansion === undefined || area === undefined || !(area > 0)) return undefined;
  return toNumber(densityPerM2(expansion.estimatedTotal, exactOf(area)));
}
