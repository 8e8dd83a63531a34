import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { Finding } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { CountPolicy } from "../../names/count-policy.ts";
import type { ExpectedRichness } from "../../subsample/expected-richness.ts";
import { expectedRichness } from "../../subsample/expected-richness.ts";
import { flagsOf } from "../flags.ts";
import type { NamedRows } from "../load-rows.ts";
import { expandedCounts } from "./draw-findings.ts";
import type { SampleToDraw, SampleWithPiles } from "./walk-samples.ts";
import { walkSamples, withPiles } from "./walk-samples.ts";

/** What can be expected of a sample at a number of animals. */
export interface ExpectedSample {
  readonly sampleId: string;
  readonly siteId: string;
  readonly status: "computed" | "too-few" | "held-back" | "refused";
  readonly counted: number | undefined;
  /** Taxa among the animals counted. */
  readonly taxa: number | undefined;
  readonly expected: ExpectedRichness | undefined;
  readonly flags: readonly FindingCode[];
  readonly findings: readonly Finding[];
}

/**
 * The expected richness of every sample at n animals, without any draw: the mean over all draws that could be
 * made (Hurlbert 1971) and its standard error (Heck, van Belle & Simberloff 1975).
 *
 * Taxa are those that the names on the sheet resolve to, life stages together; nothing is rolled up and no
 * parent is taken out, since both would come after a draw. Animals of the large/rare search are left out, and so
 * is a sample with fewer than n animals, for which the expectation is not defined.
 *
 * @param n animals, a whole number above 0
 */
export function* expectBatch(rows: NamedRows, policy: CountPolicy, n: number): Generator<ExpectedSample> {
  for (const sample of walkSamples(rows, policy)) yield expectSample(sample, n);
}

function expectSample(sample: SampleToDraw, n: number): ExpectedSample {
  const { sampleId, siteId, place, piles, stopped } = sample;
  const known = { sampleId, siteId };
  const unknown = (status: ExpectedSample["status"], more: readonly Finding[]): ExpectedSample => {
    const findings = [...sample.findings, ...more];
    const counted = status === "refused" && more.length === 0 ? undefined : piles.counted;
    const flags = flagsOf(findings, [
      ...(stopped?.codes ?? []),
      ...more.filter((one) => one.severity === "note").map((one) => one.code),
    ]);
    return { ...known, status, counted, taxa: undefined, expected: undefined, flags, findings };
  };
  if (stopped !== undefined) return unknown(stopped.status, []);
  if (piles.hasExpanded) return unknown("refused", [expandedCounts(sample, n)]);
  const counts = animalsOfTaxa(withPiles(sample));
  if (piles.counted < n) {
    const message = `${sampleId} has ${piles.counted} animals, so nothing can be said of ${n}`;
    const note = finding("no-expected-richness", place, { message, sampleId });
    return { ...unknown("too-few", [note]), taxa: counts.length };
  }
  return {
    ...known,
    status: "computed",
    counted: piles.counted,
    taxa: counts.length,
    expected: expectedRichness(counts, n),
    flags: flagsOf(sample.findings, []),
    findings: sample.findings,
  };
}

function animalsOfTaxa({ main }: SampleWithPiles): number[] {
  const counts = new Map<number, number>();
  for (const { taxon, count } of main) if (count > 0) counts.set(taxon, (counts.get(taxon) ?? 0) + count);
  return [...counts.values()];
}

export const EXPECTED_COLUMNS: readonly OutputColumn[] = [
  { name: "sample_id", kind: "text" },
  { name: "site_id", kind: "text" },
  { name: "status", kind: "text" },
  { name: "individuals_counted", kind: "number" },
  { name: "target", kind: "number" },
  { name: "taxa", kind: "number" },
  { name: "expected_taxa", kind: "number" },
  { name: "standard_error", kind: "number" },
  { name: "flags", kind: "text" },
];

export function expectedRow(sample: ExpectedSample, n: number): OutputRow {
  return [
    sample.sampleId,
    sample.siteId,
    sample.status,
    sample.counted ?? null,
    n,
    sample.taxa ?? null,
    sample.expected?.expected ?? null,
    sample.expected?.standardError ?? null,
    sample.flags.join(";"),
  ];
}
