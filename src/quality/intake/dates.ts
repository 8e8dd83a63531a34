import type { Finding } from "../../findings/finding.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact } from "../../model/sample-facts.ts";
import type { IntakeRule } from "./rule.ts";
import { intakeFinding } from "./rule.ts";

/** The dates of a sample, in the order in which they happen. */
const DATES = ["collected_on", "received_on", "sorted_on"] as const;
type DateColumn = (typeof DATES)[number];

/** Dates after today. */
export const futureRule: IntakeRule = {
  name: "dates in the future",
  codes: ["future-date"],
  check: (facts, { today }) =>
    DATES.flatMap((column): Finding[] => {
      const day = dayOf(facts, column);
      if (day === undefined || day <= today) return [];
      const message = `${column} of ${facts.sampleId} is ${day}, after today (${today})`;
      return [intakeFinding("future-date", facts, column, message)];
    }),
};

/** Received before collected, sorted before received: each date against the nearest one before it that is given. */
export const orderRule: IntakeRule = {
  name: "order of the dates",
  codes: ["dates-out-of-order"],
  check: (facts) => {
    const findings: Finding[] = [];
    let earlier: { readonly column: DateColumn; readonly day: string } | undefined;
    for (const column of DATES) {
      const day = dayOf(facts, column);
      if (day === undefined) continue;
      if (earlier !== undefined && day < earlier.day) {
        const message = `${facts.sampleId}: ${column} ${day} is before ${earlier.column} ${earlier.day}`;
        findings.push(intakeFinding("dates-out-of-order", facts, column, message));
      }
      earlier = { column, day };
    }
    return findings;
  },
};

/** The day of a date, without its time; undefined when it is not given or written in another way. */
function dayOf(facts: SampleFacts, column: DateColumn): string | undefined {
  return /^\d{4}-\d\d-\d\d(?!\d)/.exec(fact(facts, column) ?? "")?.[0];
}
