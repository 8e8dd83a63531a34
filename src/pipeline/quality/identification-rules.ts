import type { FindingSink } from "../../findings/collector.ts";
import type { SetDefinition } from "../../model/reference-set.ts";
import type { Rank, TaxonTree } from "../../model/taxon-tree.ts";
import type { TargetLevel } from "../../quality/completeness.ts";
import { ENUMERATION_DEFINITIONS } from "../../quality/enumeration.ts";
import { figureText } from "../../quality/figure-text.ts";
import type { IdentificationRules } from "../../quality/identification.ts";
import { findSetFolder } from "../../reference/find-set.ts";
import { readReferenceSet } from "../../reference/read-set.ts";
import type { SharedTables } from "../../reference/shared-tables.ts";
import { packageTables } from "../package-tables.ts";

/**
 * The definition of a reference set, for its level and for the animals it counts.
 *
 * @returns undefined when no set is asked for; null when it cannot be used (the findings say why)
 * @throws UnknownSetError, FileError
 */
export async function definitionOf(
  reference: string | undefined,
  shared: SharedTables,
  cwd: string,
  findings: FindingSink,
): Promise<SetDefinition | undefined | null> {
  if (reference === undefined) return undefined;
  const folder = await findSetFolder(reference, { packageTables: packageTables(), cwd });
  const set = await readReferenceSet(folder, shared, findings);
  return set?.definition ?? null;
}

/** The level to which animals should have been named: the user's, else the set's, else genus. */
export function targetLevel(
  rank: Rank | undefined,
  definition: SetDefinition | undefined,
  tree: TaxonTree,
): TargetLevel {
  if (rank !== undefined || definition === undefined) return { rank: rank ?? "genus", exceptions: [] };
  return {
    rank: definition.level.rank,
    exceptions: definition.level.exceptions.flatMap((exception) => {
      const taxon = tree.numberOf(exception.taxon);
      return taxon === undefined ? [] : [{ taxon, rank: exception.rank }];
    }),
  };
}

/** The rules in sentences. */
export function identificationRuleTexts(rules: IdentificationRules): string[] {
  const limit = (one: IdentificationRules["enumerationLimit"]) =>
    one === undefined ? "no limit" : `limit ${figureText(one.at)} percent, which passes itself`;
  const level =
    rules.level.rank === "as-named" ? "no level is asked for" : `target level ${rules.level.rank}`;
  return [
    `Percent difference in enumeration (PDE) = ${ENUMERATION_DEFINITIONS[rules.enumeration]}; ${limit(rules.enumerationLimit)}.`,
    `Percent taxonomic disagreement (PTD) = 100 x (1 - agreements / larger total); ${limit(rules.disagreementLimit)}. Names of one line of which one is coarser ${rules.hierarchical === "count" ? "count as disagreements" : "do not count as disagreements"} for the limit; both figures are shown.`,
    `Percent taxonomic completeness (PTC) = 100 x animals named to the target level / all animals; ${level}${rules.level.exceptions.length > 0 ? ", with the set's exceptions" : ""}; ${rules.completenessLimit === undefined ? "its difference has no limit" : `limit of the difference ${figureText(rules.completenessLimit.at)} percent`}.`,
    "Formulas as recalled from Stribling, Moulton and Lester 2003 (J. N. Am. Benthol. Soc. 22:621-631) and Stribling and others 2008 (27:906-919). A limit missed asks for a look at the reasons; it does not reject the data by itself.",
    "Which animal is which was inferred from the counts: same names first, then names of one line, then the nearest other name. PDE and PTD do not depend on it.",
  ];
}
