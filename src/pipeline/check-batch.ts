import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { compareCodePoints } from "../model/order.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fact } from "../model/sample-facts.ts";
import type { CountPolicy } from "../names/count-policy.ts";
import { checkIntake, intakeContext, SEE_TO_FIRST } from "../quality/intake/check-intake.ts";
import type { IntakeContext } from "../quality/intake/rule.ts";
import type { ListedTaxon } from "../sheets/alerts-list.ts";
import type { Alert } from "./alerts.ts";
import { findAlerts } from "./alerts.ts";
import { flagsOf } from "./flags.ts";
import { reportUncountedJars } from "./jars-of-rows.ts";
import type { NamedRows } from "./load-rows.ts";
import { checkGear, checkSeason, isHeldBack, stratumOf } from "./log-checks.ts";
import { gatherPiles, placeOfSample } from "./sample-piles.ts";
import { reportSorted } from "./sorted-of-log.ts";
import { SubtotalFinder } from "./subtotals.ts";

/** `ready` to be scored, `held-back` (jars missing), `refused` (a fault in its rows or names), `missing` (in the log, no counts). */
export type Readiness = "ready" | "held-back" | "refused" | "missing";

/** One line of the summary a coordinator acts on. */
export interface CheckedSample {
  readonly sampleId: string;
  readonly siteId: string;
  readonly collectedOn: string;
  readonly readiness: Readiness;
  /** Animals of the main part that count; undefined when it is not known. */
  readonly individuals: number | undefined;
  /** Codes of its errors and warnings, in code point order. */
  readonly flags: readonly FindingCode[];
  /** Why it is not ready, in words; empty when it is. */
  readonly why: string;
  /** What does not wait, the most urgent first, in words; empty when nothing is urgent. */
  readonly seeToFirst: readonly { readonly code: FindingCode; readonly message: string }[];
}

/** How a batch is checked. */
export interface CheckChoices {
  readonly policy: CountPolicy;
  /** Year-month-day. */
  readonly today: string;
  /** The set that will score the batch, whose strata and season are then checked too. */
  readonly set?: SetDefinition | undefined;
  /** The taxa to watch for. */
  readonly watch?: ((taxon: number) => ListedTaxon | undefined) | undefined;
}

/** A sample checked, with what was found. */
export interface CheckResult {
  readonly sample: CheckedSample;
  readonly findings: readonly Finding[];
  readonly alerts: readonly Alert[];
}

/**
 * Checks every sample of a batch without scoring any: what is ready, what is held back, what is missing and why.
 * Samples of the sheets come first, in the order in which they appear; then those that only the log knows.
 */
export function* checkBatch(rows: NamedRows, choices: CheckChoices): Generator<CheckResult> {
  const { table, log } = rows;
  const bySample = table.bySample();
  const subtotals = new SubtotalFinder(table, rows.names);
  const intake = intakeContext(
    log?.samples ?? new Map(),
    choices.today,
    (sampleId) => table.samples.numberOf(sampleId) !== undefined,
  );
  for (let number = 0; number < table.samples.size; number++) {
    yield checkCounted(number, bySample.rowsOf(number), rows, choices, intake, subtotals);
  }
  for (const sampleId of log?.order ?? [])
    if (table.samples.numberOf(sampleId) === undefined) yield checkMissing(sampleId, rows, choices, intake);
}

function checkCounted(
  number: number,
  own: Uint32Array,
  rows: NamedRows,
  choices: CheckChoices,
  intake: IntakeContext,
  subtotals: SubtotalFinder,
): CheckResult {
  const findings = new FindingCollector();
  const { table, names } = rows;
  const sampleId = table.samples.textOf(number);
  const facts = rows.log?.samples.get(sampleId);
  const { policy, watch } = choices;
  const piles = gatherPiles(number, { table, names, policy, findings });
  const alerts = watch === undefined ? [] : findAlerts(sampleId, own, { table, names }, watch, findings);
  const place = placeOfSample(table, own);
  reportUncountedJars(sampleId, own, table, facts, findings);
  reportSorted(own, table, facts, findings);
  subtotals.report(sampleId, own, findings, piles);
  const heldBack = checkFacts(sampleId, facts, choices, intake, findings);
  if (choices.set !== undefined) stratumOf(sampleId, facts, choices.set, undefined, place, findings);
  const faults = [...(rows.refused.get(sampleId) ?? []), ...piles.refusals];
  const errors = new Set([...faults, ...codesOf(findings.all, "error")]);
  const readiness = errors.size > 0 ? "refused" : heldBack === undefined ? "ready" : "held-back";
  return {
    sample: {
      ...known(sampleId, facts),
      readiness,
      individuals: errors.size > 0 ? undefined : piles.counted,
      flags: flagsOf(findings.all, faults),
      why:
        readiness === "ready"
          ? ""
          : errors.size > 0
            ? [...errors].sort(compareCodePoints).join(", ")
            : (heldBack ?? ""),
      seeToFirst: urgent(findings.all),
    },
    findings: findings.all,
    alerts,
  };
}

function checkMissing(
  sampleId: string,
  rows: NamedRows,
  choices: CheckChoices,
  intake: IntakeContext,
): CheckResult {
  const findings = new FindingCollector();
  const facts = rows.log?.samples.get(sampleId);
  const heldBack = checkFacts(sampleId, facts, choices, intake, findings);
  reportSorted(new Uint32Array(), rows.table, facts, findings);
  return {
    sample: {
      ...known(sampleId, facts),
      readiness: "missing",
      individuals: undefined,
      flags: flagsOf(findings.all, ["no-counts"]),
      why: heldBack === undefined ? "no counts" : `no counts; ${heldBack}`,
      seeToFirst: urgent(findings.all),
    },
    findings: findings.all,
    alerts: [],
  };
}

/** What the log alone tells of a sample. @returns why it is held back, if it is */
function checkFacts(
  sampleId: string,
  facts: SampleFacts | undefined,
  choices: CheckChoices,
  intake: IntakeContext,
  findings: FindingCollector,
): string | undefined {
  const heldBack = isHeldBack(sampleId, facts, findings);
  if (facts !== undefined) for (const one of checkIntake(facts, intake)) findings.add(one);
  if (choices.set !== undefined) {
    checkSeason(sampleId, facts, choices.set, findings);
    checkGear(sampleId, facts, choices.set, findings);
  }
  if (!heldBack) return undefined;
  return `${fact(facts, "containers_received")} of ${fact(facts, "containers_expected")} jars are in`;
}

function known(
  sampleId: string,
  facts: SampleFacts | undefined,
): Pick<CheckedSample, "sampleId" | "siteId" | "collectedOn"> {
  return {
    sampleId,
    siteId: fact(facts, "site_id") ?? "",
    collectedOn: fact(facts, "collected_on") ?? "",
  };
}

function codesOf(findings: readonly Finding[], severity: Finding["severity"]): FindingCode[] {
  return findings.filter((one) => one.severity === severity).map((one) => one.code);
}

function urgent(findings: readonly Finding[]): CheckedSample["seeToFirst"] {
  return SEE_TO_FIRST.flatMap((code) =>
    findings.filter((one) => one.code === code).map(({ message }) => ({ code, message })),
  );
}
