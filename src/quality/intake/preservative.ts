import type { Exact } from "../../model/exact.ts";
import {
  add,
  compareExact,
  divide,
  fraction,
  isZero,
  multiply,
  parseDecimal,
  roundExact,
  toNumber,
} from "../../model/exact.ts";
import type { LogColumn, SampleFacts } from "../../model/sample-facts.ts";
import { fact } from "../../model/sample-facts.ts";
import type { IntakeRule } from "./rule.ts";
import { intakeFinding } from "./rule.ts";

/** Least share of a jar that preservative should fill (common practice, no source). */
const HALF = fraction(1, 2);
/** Least strength in percent that ethanol may come to with the water of the sample (common practice, no source). */
const LEAST_STRENGTH = fraction(70);

/** Preservative fills less than half of the jar: the most urgent thing to see to. */
export const shareRule: IntakeRule = {
  name: "share of the jar that preservative fills",
  codes: ["low-preservative"],
  check: (facts) => {
    const share = shareOf(facts, "preservative_fraction");
    if (isFormalin(facts) || share === undefined || compareExact(share, HALF) >= 0) return [];
    const message = `preservative fills ${fact(facts, "preservative_fraction")} of the jar of ${facts.sampleId}, less than half`;
    return [intakeFinding("low-preservative", facts, "preservative_fraction", message)];
  },
};

/** Ethanol too weak once the water of the sample is in it: top up. */
export const strengthRule: IntakeRule = {
  name: "strength that ethanol came to",
  codes: ["weak-ethanol"],
  check: (facts) => {
    const strength = finalStrength(facts);
    if (strength === undefined || compareExact(strength, LEAST_STRENGTH) >= 0) return [];
    const column = facts.texts.has("ethanol_ml") ? "ethanol_ml" : "ethanol_percent";
    // Rounded down for show, so that 69.96 is not shown as the 70 that would pass.
    const shown = Math.floor(toNumber(roundExact(multiply(strength, fraction(10)), 6))) / 10;
    const message = `the ethanol in ${facts.sampleId} has come to ${shown} percent`;
    return [intakeFinding("weak-ethanol", facts, column, message)];
  },
};

/**
 * The strength in percent that the ethanol of a jar has come to: its strength times its share of all liquid, that
 * share from the volumes of ethanol and of the water in the sample, or else from the share of the jar that
 * preservative fills (all the rest is then taken for water). With neither, the strength as poured: it is no more.
 *
 * @returns undefined when it is not known, or the preservative is no ethanol
 */
export function finalStrength(facts: SampleFacts): Exact | undefined {
  if (!isEthanol(facts)) return undefined;
  const poured = plainNumber(facts, "ethanol_percent");
  if (poured === undefined || compareExact(poured, fraction(100)) > 0) return undefined;
  const ethanol = plainNumber(facts, "ethanol_ml");
  const water = plainNumber(facts, "sample_water_ml");
  if (ethanol !== undefined && water !== undefined) {
    const liquid = add(ethanol, water);
    return isZero(liquid) ? undefined : divide(multiply(poured, ethanol), liquid);
  }
  return multiply(poured, shareOf(facts, "preservative_fraction") ?? fraction(1));
}

/** Formalin keeps tissue at other strengths and shares; both rules are about alcohol. */
function isFormalin(facts: SampleFacts): boolean {
  const name = fact(facts, "preservative") ?? "";
  return /formal|formol/i.test(name) && !isEthanolName(name);
}

function isEthanol(facts: SampleFacts): boolean {
  const name = fact(facts, "preservative");
  return name === undefined || isEthanolName(name);
}

/** "ethanol", "95% EtOH", "denatured alcohol"; not "methanol" and not "isopropyl alcohol". */
function isEthanolName(name: string): boolean {
  return /\bethanol|\betoh\b|\bethyl/i.test(name) || (/alcohol/i.test(name) && !/prop|methyl/i.test(name));
}

/** A number from 0; undefined when it is absent or cannot be read, which reading the log reports. */
function plainNumber(facts: SampleFacts, column: LogColumn): Exact | undefined {
  const text = fact(facts, column);
  return text === undefined || !/^\d{1,15}(\.\d{1,15})?$/.test(text) ? undefined : parseDecimal(text);
}

function shareOf(facts: SampleFacts, column: LogColumn): Exact | undefined {
  const share = plainNumber(facts, column);
  return share === undefined || compareExact(share, fraction(1)) > 0 ? undefined : share;
}
