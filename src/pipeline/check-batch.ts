import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { fact } from "../model/sample-facts.ts";
import type { CountPolicy } from "../names/count-policy.ts";
import { flagsOf } from "./flags.ts";
import type { NamedRows } from "./load.ts";
import { isHeldBack } from "./log-checks.ts";
import { gatherPiles } from "./sample-piles.ts";

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
}

/**
 * Checks every sample of a batch without scoring any: what is ready, what is held back, what is missing and why.
 * Samples of the sheets come first, in the order in which they appear; then those that only the log knows.
 */
export function* checkBatch(
  rows: NamedRows,
  policy: CountPolicy,
): Generator<{ readonly sample: CheckedSample; readonly findings: readonly Finding[] }> {
  const { order, starts } = rows.table.bySample();
  for (let number = 0; number < rows.table.samples.size; number++) {
    const sampleId = rows.table.samples.textOf(number);
    const findings = new FindingCollector();
    const facts = rows.log?.samples.get(sampleId);
    const own = order.subarray(starts[number] ?? 0, starts[number + 1] ?? 0);
    const piles = gatherPiles(sampleId, own, { table: rows.table, names: rows.names, policy, findings });
    const faults = [...(rows.refused.get(sampleId) ?? []), ...piles.refusals];
    const heldBack = isHeldBack(sampleId, facts, findings);
    yield {
      sample: {
        sampleId,
        siteId: fact(facts, "site_id") ?? "",
        collectedOn: fact(facts, "collected_on") ?? "",
        readiness: faults.length > 0 ? "refused" : heldBack ? "held-back" : "ready",
        individuals: faults.length > 0 ? undefined : piles.counted,
        flags: flagsOf(findings.all, faults),
      },
      findings: findings.all,
    };
  }
  for (const sampleId of rows.log?.order ?? []) {
    if (rows.table.samples.numberOf(sampleId) !== undefined) continue;
    const facts = rows.log?.samples.get(sampleId);
    const findings = new FindingCollector();
    isHeldBack(sampleId, facts, findings);
    yield {
      sample: {
        sampleId,
        siteId: fact(facts, "site_id") ?? "",
        collectedOn: fact(facts, "collected_on") ?? "",
        readiness: "missing",
        individuals: undefined,
        flags: flagsOf(findings.all, ["no-counts"]),
      },
      findings: findings.all,
    };
  }
}
