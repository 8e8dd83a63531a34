import { visibleText } from "../files/visible-text.ts";
import type { Finding } from "../findings/finding.ts";
import type { Alert } from "../pipeline/alerts.ts";
import type { CheckedSample, CheckResult, Readiness } from "../pipeline/check-batch.ts";
import { SEE_TO_FIRST } from "../quality/intake/check-intake.ts";

/** How many samples a line of the summary names; the table has all of them. */
const MOST_NAMED = 12;
const READINESS: readonly (readonly [Readiness, string])[] = [
  ["ready", "ready"],
  ["held-back", "held back"],
  ["refused", "refused"],
  ["missing", "missing"],
];

/** What the summary keeps of the samples while they pass. */
export class SummaryTally {
  readonly alerts: Alert[] = [];
  readonly urgent: CheckedSample[] = [];
  readonly #counts = new Map<Readiness, number>();
  /** Samples that are not ready, by readiness and reason. */
  readonly #notReady = new Map<Readiness, Map<string, string[]>>();

  add({ sample, alerts }: CheckResult): void {
    const { readiness, sampleId, why } = sample;
    this.alerts.push(...alerts);
    if (sample.seeToFirst.length > 0) this.urgent.push(sample);
    this.#counts.set(readiness, (this.#counts.get(readiness) ?? 0) + 1);
    if (readiness === "ready") return;
    const byReason = this.#notReady.get(readiness) ?? new Map<string, string[]>();
    this.#notReady.set(readiness, byReason);
    const samples = byReason.get(why);
    if (samples === undefined) byReason.set(why, [sampleId]);
    else samples.push(sampleId);
  }

  count(readiness: Readiness): number {
    return this.#counts.get(readiness) ?? 0;
  }

  /** Samples of a readiness by the reason, in the order in which reasons first came. */
  reasons(readiness: Readiness): ReadonlyMap<string, readonly string[]> {
    return this.#notReady.get(readiness) ?? new Map();
  }
}

/**
 * The summary a coordinator acts on, line by line: what was listed to watch for and protected animals kept, what
 * does not wait, how many samples are ready, and which are held back, refused or missing, and why.
 */
export function checkSummary(tally: SummaryTally, findings: readonly Finding[]): string[] {
  return [
    ...alertLines(tally.alerts),
    ...findings
      .filter((one) => one.code === "kept-protected")
      .slice(0, MOST_NAMED)
      .map((one) => `protected: ${one.message}`),
    ...urgentLines(tally.urgent),
    countLine(tally),
    ...READINESS.flatMap(([readiness, words]) =>
      [...tally.reasons(readiness)].map(([why, samples]) => `${words} (${why}): ${named(samples)}`),
    ),
  ].map(visibleText);
}

/** One line a listed taxon, in the order of the list. */
function alertLines(alerts: readonly Alert[]): string[] {
  const byTaxon = new Map<string, Alert[]>();
  for (const alert of [...alerts].sort((a, b) => a.listed.line - b.listed.line)) {
    const own = byTaxon.get(alert.listed.taxon);
    if (own === undefined) byTaxon.set(alert.listed.taxon, [alert]);
    else own.push(alert);
  }
  return [...byTaxon.values()].map((own) => {
    const { kind = "protected", taxon = "", note = "" } = own[0]?.listed ?? {};
    const where = named(own.map(({ sampleId, found, animals }) => `${sampleId} (${animals} ${found})`));
    return `ALERT ${kind} ${taxon}: ${where}${note === "" ? "" : `; ${note}`}`;
  });
}

function urgentLines(urgent: readonly CheckedSample[]): string[] {
  const rank = ({ seeToFirst: [first] }: CheckedSample) =>
    first === undefined ? SEE_TO_FIRST.length : SEE_TO_FIRST.indexOf(first.code);
  const sorted = [...urgent].sort((a, b) => rank(a) - rank(b));
  if (sorted.length === 0) return [];
  const shown = sorted
    .slice(0, MOST_NAMED)
    .map(({ seeToFirst }) => `  ${seeToFirst.map(({ message }) => message).join("; ")}`);
  const rest = sorted.length - shown.length;
  return ["see to first:", ...shown, ...(rest > 0 ? [`  and ${rest} more (column see_to_first)`] : [])];
}

function countLine(tally: SummaryTally): string {
  const parts = READINESS.flatMap(([readiness]) => {
    const count = tally.count(readiness);
    return count === 0 ? [] : [`${count} ${readiness}`];
  });
  return parts.length === 0 ? "no sample" : `samples: ${parts.join(", ")}`;
}

function named(samples: readonly string[]): string {
  const rest = samples.length - MOST_NAMED;
  return `${samples.slice(0, MOST_NAMED).join(", ")}${rest > 0 ? ` and ${rest} more` : ""}`;
}
