import type { Finding } from "../../findings/finding.ts";
import { fact } from "../../model/sample-facts.ts";
import type { IntakeContext, IntakeRule } from "./rule.ts";
import { intakeFinding } from "./rule.ts";

/** Columns that point to another sample. */
const LINKS = ["duplicate_of", "replicate_of", "reference_sample_id"] as const;
type Link = (typeof LINKS)[number];

/** Samples that are pointed to must be there; a duplicate is of the same site and day as its primary. */
export const linksRule: IntakeRule = {
  name: "links between samples",
  codes: ["unknown-sample", "odd-duplicate", "circular-duplicates"],
  check: (facts, context) =>
    LINKS.flatMap((column): Finding[] => {
      const target = fact(facts, column);
      if (target === undefined) return [];
      const primary = context.log.get(target);
      if (primary === undefined && !context.hasCounts(target)) {
        const message = `${column} of ${facts.sampleId} points to "${target}", which is not there`;
        return [intakeFinding("unknown-sample", facts, column, message)];
      }
      if (column !== "reference_sample_id" && isCircular(facts.sampleId, column, context)) {
        const message =
          target === facts.sampleId
            ? `${column} of ${facts.sampleId} points to the sample itself`
            : `${column} of ${facts.sampleId} leads back to it, so that none of its samples is the primary one`;
        return [intakeFinding("circular-duplicates", facts, column, message)];
      }
      if (column !== "duplicate_of" || primary === undefined) return [];
      for (const [what, of] of [
        ["site", "site_id"],
        ["day", "collected_on"],
      ] as const) {
        const here = fact(facts, of)?.slice(0, of === "collected_on" ? 10 : undefined);
        const there = fact(primary, of)?.slice(0, of === "collected_on" ? 10 : undefined);
        if (here === undefined || there === undefined || here === there) continue;
        const message = `${facts.sampleId} repeats ${target} but is of ${what} ${here}, not ${there}`;
        return [intakeFinding("odd-duplicate", facts, column, message)];
      }
      return [];
    }),
};

/** Whether following a column from a sample leads back to it. */
function isCircular(sampleId: string, column: Link, { log }: IntakeContext): boolean {
  const seen = new Set<string>();
  let at = sampleId;
  while (!seen.has(at)) {
    seen.add(at);
    const next = fact(log.get(at), column);
    if (next === undefined) return false;
    at = next;
  }
  return at === sampleId;
}
