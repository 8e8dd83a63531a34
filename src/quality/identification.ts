import type { Exact } from "../model/exact.ts";
import { compareExact, fraction, negate, simplify, subtract, ZERO } from "../model/exact.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { TargetLevel } from "./completeness.ts";
import { completeness } from "./completeness.ts";
import type { EnumerationDefinition } from "./enumeration.ts";
import { enumerationDifference } from "./enumeration.ts";
import type { Judgement, QualityLimit } from "./judgement.ts";
import { combineOutcomes, judge } from "./judgement.ts";
import { USUAL_LIMITS } from "./limits.ts";
import type { SheetCounts, SheetMatching } from "./match-sheets.ts";
import { matchSheets } from "./match-sheets.ts";
import { percentOf, restOfHundred } from "./percent.ts";
import { brayCurtisSimilarity, percentSimilarity } from "./sheet-similarity.ts";

/** How two sheets of the same animals are compared. */
export interface IdentificationRules {
  readonly enumeration: EnumerationDefinition;
  readonly enumerationLimit: QualityLimit | undefined;
  readonly disagreementLimit: QualityLimit | undefined;
  /** Whether a coarser name on the same line of the tree counts as a disagreement for the limit. */
  readonly hierarchical: "count" | "ignore";
  readonly level: TargetLevel;
  /** Limit of the difference of the two completeness figures; the published rules set none. */
  readonly completenessLimit: QualityLimit | undefined;
}

/** The usual rules: PDE by the sum at most 5, PTD with hierarchical disagreements at most 15, genus level. */
export const USUAL_IDENTIFICATION_RULES: IdentificationRules = {
  enumeration: "sum",
  enumerationLimit: USUAL_LIMITS.enumeration,
  disagreementLimit: USUAL_LIMITS.disagreement,
  hierarchical: "count",
  level: { rank: "genus", exceptions: [] },
  completenessLimit: undefined,
};

/** All figures of one re-identified sample, in percent and exact; undefined where they cannot be computed. */
export interface IdentificationFigures {
  readonly sampleId: string;
  readonly matching: SheetMatching;
  /** PDE by the definition of the rules. */
  readonly enumerationDifference: Exact | undefined;
  /** PTD: 100 x (1 - agreements / larger total). */
  readonly disagreement: Exact | undefined;
  /** PTD when a coarser name of the same line is no disagreement. */
  readonly disagreementWithoutHierarchical: Exact | undefined;
  /** PTA: 100 - PTD. */
  readonly agreement: Exact | undefined;
  readonly completenessPrimary: Exact | undefined;
  readonly completenessRecheck: Exact | undefined;
  /** Difference of the two without sign. */
  readonly completenessDifference: Exact | undefined;
  readonly brayCurtis: Exact | undefined;
  readonly percentSimilarity: Exact | undefined;
  /** Families that only the second sheet has, and those that only the first has. */
  readonly gains: number;
  readonly losses: number;
  readonly enumerationJudgement: Judgement;
  readonly disagreementJudgement: Judgement;
  readonly completenessJudgement: Judgement;
  readonly outcome: Judgement["outcome"];
}

/**
 * Compares two bench sheets of the same animals.
 *
 * PDE, PTD and PTC as recalled from Stribling, Moulton and Lester 2003 (J. N. Am. Benthol. Soc. 22:621-631) and
 * Stribling, Pavlik, Holdsworth and Leppo 2008 (27:906-919).
 *
 * @param primary counts of the first taxonomist by number of the taxon, only animals that count
 * @param recheck counts of the second one
 * @throws RangeError when a count is not a whole number above zero
 */
export function compareIdentifications(
  sampleId: string,
  tree: TaxonTree,
  primary: SheetCounts,
  recheck: SheetCounts,
  rules: IdentificationRules,
): IdentificationFigures {
  const matching = matchSheets(tree, primary, recheck);
  const { primaryTotal, recheckTotal, agreements } = matching;
  const sameLine = matching.sameLine.reduce((sum, pair) => sum + pair.count, 0);
  const larger = Math.max(primaryTotal, recheckTotal);
  const disagreement = disagreementOf(agreements, larger);
  const disagreementWithoutHierarchical = disagreementOf(agreements + sameLine, larger);
  const pde = enumerationDifference(primaryTotal, recheckTotal, rules.enumeration);
  const completenessPrimary = completeness(tree, primary, rules.level);
  const completenessRecheck = completeness(tree, recheck, rules.level);
  const completenessDifference = absoluteDifference(completenessPrimary, completenessRecheck);
  const counted = rules.hierarchical === "count" ? disagreement : disagreementWithoutHierarchical;
  const enumerationJudgement = judge(pde, rules.enumerationLimit);
  const disagreementJudgement = judge(counted, rules.disagreementLimit);
  const completenessJudgement = judge(completenessDifference, rules.completenessLimit);
  const families = [familiesOf(tree, primary), familiesOf(tree, recheck)] as const;
  return {
    sampleId,
    matching,
    enumerationDifference: pde,
    disagreement,
    disagreementWithoutHierarchical,
    agreement: disagreement === undefined ? undefined : restOfHundred(disagreement),
    completenessPrimary,
    completenessRecheck,
    completenessDifference,
    brayCurtis: brayCurtisSimilarity(primary, recheck),
    percentSimilarity: percentSimilarity(primary, recheck),
    gains: countMissing(families[1], families[0]),
    losses: countMissing(families[0], families[1]),
    enumerationJudgement,
    disagreementJudgement,
    completenessJudgement,
    outcome: combineOutcomes([
      enumerationJudgement.outcome,
      disagreementJudgement.outcome,
      ...(rules.completenessLimit === undefined ? [] : [completenessJudgement.outcome]),
    ]),
  };
}

/** Percent taxonomic disagreement: 100 x (1 - agreements / larger total); undefined when both sheets are empty. */
export function disagreementOf(agreements: number, largerTotal: number): Exact | undefined {
  return percentOf(fraction(largerTotal - agreements), fraction(largerTotal));
}

function absoluteDifference(a: Exact | undefined, b: Exact | undefined): Exact | undefined {
  if (a === undefined || b === undefined) return undefined;
  const signed = simplify(subtract(a, b));
  return compareExact(signed, ZERO) < 0 ? negate(signed) : signed;
}

function familiesOf(tree: TaxonTree, counts: SheetCounts): Set<number> {
  return new Set([...counts.keys()].flatMap((taxon) => tree.ancestorAt(taxon, "family") ?? []));
}

function countMissing(own: ReadonlySet<number>, other: ReadonlySet<number>): number {
  let missing = 0;
  for (const taxon of own) if (!other.has(taxon)) missing++;
  return missing;
}
