import type { Finding, Place } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";

/** The median place of a batch, in degrees. */
export interface BatchPlace {
  readonly latitude: number;
  readonly longitude: number;
}

/** What a rule may look at beside the row itself. */
export interface IntakeContext {
  /** The day of the check, year-month-day. */
  readonly today: string;
  /** The whole sample log. */
  readonly log: ReadonlyMap<string, SampleFacts>;
  /** The first sample of each site, by site. */
  readonly firstOfSite: ReadonlyMap<string, SampleFacts>;
  /** The middle of the samples that have a place; undefined for fewer than three. */
  readonly middle: BatchPlace | undefined;
  /** Whether the sheets have counts of a sample. */
  readonly hasCounts: (sampleId: string) => boolean;
}

/** One rule of intake: looks at one row of the sample log. */
export interface IntakeRule {
  /** What it looks at, in a few words. */
  readonly name: string;
  readonly codes: readonly FindingCode[];
  readonly check: (facts: SampleFacts, context: IntakeContext) => readonly Finding[];
}

/** A finding of intake, at the cell of a column of the sample's row. */
export function intakeFinding(
  code: FindingCode,
  facts: SampleFacts,
  column: string,
  message: string,
  hint?: string,
): Finding {
  return finding(code, placeOfFact(facts, column), { message, sampleId: facts.sampleId, hint });
}

/** Where a fact of the log stands; the first field of its row when its column is not there. */
export function placeOfFact(facts: SampleFacts, column: string): Place {
  return { file: facts.file, line: facts.line, column: facts.columns.get(column) ?? 1 };
}
