import type { Finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact } from "../../model/sample-facts.ts";
import { futureRule, orderRule } from "./dates.ts";
import { jarsRule, labelsRule } from "./jars.ts";
import { linksRule } from "./links.ts";
import { areaRule, middleOf, placeOf, placeRule, siteRule } from "./places.ts";
import { shareRule, strengthRule } from "./preservative.ts";
import type { IntakeContext, IntakeRule } from "./rule.ts";

/** Every rule of intake. A new one is an object in the file of its topic and a line here. */
export const INTAKE_RULES: readonly IntakeRule[] = [
  shareRule,
  strengthRule,
  jarsRule,
  labelsRule,
  futureRule,
  orderRule,
  areaRule,
  placeRule,
  siteRule,
  linksRule,
];

/** Findings that do not wait, the most urgent first: animals rot while the batch is discussed. */
export const SEE_TO_FIRST: readonly FindingCode[] = ["low-preservative", "weak-ethanol"];

/**
 * What the rules of a batch look at beside each row.
 *
 * @param today year-month-day, from whoever has a clock
 */
export function intakeContext(
  log: ReadonlyMap<string, SampleFacts>,
  today: string,
  hasCounts: (sampleId: string) => boolean,
): IntakeContext {
  const firstOfSite = new Map<string, SampleFacts>();
  for (const facts of log.values()) {
    const site = fact(facts, "site_id");
    if (site !== undefined && !firstOfSite.has(site)) firstOfSite.set(site, facts);
  }
  const places = [...log.values()].map(placeOf).filter((place) => place !== undefined);
  return { today, log, firstOfSite, middle: middleOf(places), hasCounts };
}

/** What intake has to say of one row of the sample log. */
export function checkIntake(facts: SampleFacts, context: IntakeContext): readonly Finding[] {
  return INTAKE_RULES.flatMap((rule) => rule.check(facts, context));
}
