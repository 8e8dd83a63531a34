import type { Finding, Place } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact, numericFact } from "../../model/sample-facts.ts";
import type { IntakeRule } from "./rule.ts";
import { intakeFinding } from "./rule.ts";

/** More jars than expected; fewer hold the sample back, which scoring decides too. */
export const jarsRule: IntakeRule = {
  name: "jars received and expected",
  codes: ["jars-extra"],
  check: (facts) => {
    const expected = numericFact(facts, "containers_expected");
    const received = numericFact(facts, "containers_received");
    if (expected === undefined || received === undefined || received <= expected) return [];
    const message = `sample ${facts.sampleId} has ${received} jars, ${expected} ${expected === 1 ? "was" : "were"} expected`;
    return [intakeFinding("jars-extra", facts, "containers_received", message)];
  },
};

/** The label outside the jar against the one inside. Capitals and blanks are no difference. */
export const labelsRule: IntakeRule = {
  name: "label outside and inside",
  codes: ["label-mismatch", "label-missing"],
  check: (facts) => {
    if (!facts.columns.has("outside_label") || !facts.columns.has("inside_label")) return [];
    const outside = fact(facts, "outside_label");
    const inside = fact(facts, "inside_label");
    if (outside === undefined && inside === undefined) return [];
    if (outside === undefined || inside === undefined) {
      const [here, there] = inside === undefined ? ["outside", "inside"] : ["inside", "outside"];
      const message = `sample ${facts.sampleId} has a label ${here} and none ${there}`;
      return [intakeFinding("label-missing", facts, `${there}_label`, message)];
    }
    if (sameLabel(outside) === sameLabel(inside)) return [];
    const message = `the labels of ${facts.sampleId} differ: "${outside}" outside, "${inside}" inside`;
    return [intakeFinding("label-mismatch", facts, "inside_label", message)];
  },
};

function sameLabel(label: string): string {
  return label.normalize("NFC").replace(/\s+/g, " ").trim().toLowerCase();
}

/**
 * Whether rows that name their jars name all jars of the sample. A jar written "1 of 2" says itself how many
 * there are.
 *
 * @param jars the jars as the rows name them; rows without one make the answer impossible, so there must be none
 * @returns undefined when all are there or it cannot be known
 */
export function uncountedJars(
  sampleId: string,
  jars: ReadonlySet<string>,
  facts: SampleFacts | undefined,
  place: Place,
): Finding | undefined {
  const written = [...jars].map((jar) => Number(/^\d+ of (\d{1,3})$/i.exec(jar)?.[1] ?? 0));
  const received =
    numericFact(facts, "containers_received") ?? numericFact(facts, "containers_expected") ?? 0;
  const all = Math.max(received, ...written);
  if (jars.size === 0 || jars.size >= all) return undefined;
  const named = [...jars].map((jar) => `"${jar}"`).join(", ");
  const message = `the rows of ${sampleId} name ${jars.size} of its ${all} jars: ${named}`;
  return finding("jars-uncounted", place, { message, sampleId });
}
