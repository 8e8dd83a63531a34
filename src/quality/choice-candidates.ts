import type { SampleFacts } from "../model/sample-facts.ts";
import { fact } from "../model/sample-facts.ts";
import type { ChoiceCandidate } from "./choose.ts";

/** What samples may be grouped by before a share of each group is chosen. */
export const CHOICE_GROUPINGS = ["sorter", "lot", "taxonomist"] as const;
export type ChoiceGrouping = (typeof CHOICE_GROUPINGS)[number];

/**
 * Samples of the log as candidates of a re-check.
 *
 * The trainee column marks a person, so that all samples of somebody who is marked on one row count as a
 * trainee's, unless their own row says no (somebody who has passed since). The person is the taxonomist when
 * samples are grouped by taxonomist, and the sorter otherwise; a marked row that names nobody stands for itself.
 *
 * @param grouping undefined puts all samples into one group with an empty name
 */
export function choiceCandidates(
  samples: readonly SampleFacts[],
  grouping: ChoiceGrouping | undefined,
): ChoiceCandidate[] {
  const role = grouping === "taxonomist" ? "taxonomist" : "sorter";
  const marked = new Set(
    samples.filter((sample) => traineeMark(sample) === "yes").flatMap((sample) => fact(sample, role) ?? []),
  );
  return samples.map((sample) => {
    const mark = traineeMark(sample);
    const person = fact(sample, role);
    return {
      sampleId: sample.sampleId,
      group: grouping === undefined ? "" : (fact(sample, grouping) ?? ""),
      trainee: mark === "yes" || (mark === "" && person !== undefined && marked.has(person)),
    };
  });
}

function traineeMark(sample: SampleFacts): "yes" | "no" | "" {
  const text = fact(sample, "trainee")?.toLowerCase() ?? "";
  if (text === "") return "";
  return text === "yes" || text === "y" || text === "true" || text === "1" ? "yes" : "no";
}
