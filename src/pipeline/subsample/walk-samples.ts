import { FindingCollector } from "../../findings/collector.ts";
import type { Finding, Place } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact, fractionSorted } from "../../model/sample-facts.ts";
import type { CountPolicy } from "../../names/count-policy.ts";
import type { NamedRows } from "../load-rows.ts";
import { isHeldBack } from "../log-checks.ts";
import type { Pile, SamplePiles } from "../sample-piles.ts";
import { gatherPiles, placeOfSample } from "../sample-piles.ts";
import { reportSorted } from "../sorted-of-log.ts";
import { SubtotalFinder } from "../subtotals.ts";

/** One sample before the draw. */
export interface SampleToDraw {
  readonly sampleId: string;
  readonly siteId: string;
  readonly rows: NamedRows;
  /** Numbers of its rows, in the order of the files. */
  readonly own: Uint32Array;
  readonly facts: SampleFacts | undefined;
  readonly place: Place;
  /** Share of the sample that was sorted; undefined where the log does not say. */
  readonly share: number | undefined;
  readonly piles: SamplePiles;
  /** Why it cannot be drawn; undefined when it can. */
  readonly stopped:
    | { readonly status: "refused" | "held-back"; readonly codes: readonly FindingCode[] }
    | undefined;
  readonly findings: readonly Finding[];
}

/** The same with piles that are objects. */
export interface SampleWithPiles extends SampleToDraw {
  /** Without those of the large/rare search, which are never drawn. */
  readonly main: readonly Pile[];
}

export function withPiles(sample: SampleToDraw): SampleWithPiles {
  return { ...sample, main: sample.piles.piles.filter((pile) => !pile.largeRare) };
}

/** Samples by their numbers in the table of rows, the end left out. */
export interface SampleRange {
  readonly start: number;
  readonly end: number;
}

/**
 * The samples of a batch as they go into a draw, in the order in which they first appear: names are resolved,
 * and animals that do not count have left, so that those that remain after the draw all count.
 */
export function* walkSamples(
  rows: NamedRows,
  policy: CountPolicy,
  range: SampleRange = { start: 0, end: rows.table.samples.size },
): Generator<SampleToDraw> {
  const bySample = rows.table.bySample();
  const subtotals = new SubtotalFinder(rows.table, rows.names);
  for (let number = range.start; number < range.end; number++) {
    yield sampleToDraw(rows, policy, number, bySample.rowsOf(number), subtotals);
  }
}

function sampleToDraw(
  rows: NamedRows,
  policy: CountPolicy,
  number: number,
  own: Uint32Array,
  subtotals: SubtotalFinder,
): SampleToDraw {
  const findings = new FindingCollector();
  const sampleId = rows.table.samples.textOf(number);
  const facts = rows.facts[number];
  const piles = gatherPiles(number, { table: rows.table, names: rows.names, policy, findings });
  const codes = [...(rows.refused.get(sampleId) ?? []), ...piles.refusals];
  const heldBack = codes.length === 0 && isHeldBack(sampleId, facts, findings);
  reportSorted(own, rows.table, facts, findings);
  subtotals.report(sampleId, own, findings, piles);
  return {
    sampleId,
    siteId: fact(facts, "site_id") ?? "",
    rows,
    own,
    facts,
    place: placeOfSample(rows.table, own),
    share: fractionSorted(facts),
    piles,
    stopped:
      codes.length > 0
        ? { status: "refused", codes }
        : heldBack
          ? { status: "held-back", codes: [] }
          : undefined,
    findings: findings.all,
  };
}
