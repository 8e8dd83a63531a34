import { at } from "../../model/at.ts";
import type { Exact } from "../../model/exact.ts";
import { exactOf, ONE, toNumber } from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { classOf, sumOfClassScores } from "../measures/scores.ts";
import { contributionsOf, taxonPart } from "./contributions.ts";
import { checkRising, type ScoreResult, scoreValue, TOO_FEW } from "./scores-form.ts";

/**
 * Sum or average of scores that a taxon has by class of abundance: a look-up, not a weight.
 *
 * @param starts lowest number of animals of each class, rising
 * @param scores for each taxon one score for each class; taxa below a named one take its scores
 */
export function classScoresForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  starts: readonly number[],
  scores: Readonly<Record<string, readonly number[]>>,
  result: ScoreResult,
): PreparedMetric {
  const filter = kit.filter(...filters);
  checkRising(kit, "class_starts", starts);
  const table = scoreTable(kit, starts.length, scores);
  return {
    attributes: filter.attributes,
    evaluate: (community) =>
      scoreValue(
        sumOfClassScores(community, filter.mask, starts, (taxon) => table[taxon]),
        result,
        ONE,
      ),
    contributions: (community) =>
      contributionsOf(community, undefined, (entry, taxon) => {
        const part = taxonPart(community, filter, entry, taxon);
        if (!part.counted) return part;
        const list = table[taxon];
        if (list === undefined) return { counted: false, why: "no scores among those of the set" };
        const score = list[classOf(at(community.counts, entry), starts)];
        return score === undefined
          ? { counted: false, why: TOO_FEW }
          : { counted: true, value: numberText(toNumber(score)) };
      }),
  };
}

function scoreTable(
  kit: PrepareKit,
  classes: number,
  scores: Readonly<Record<string, readonly number[]>>,
): readonly (readonly Exact[] | undefined)[] {
  const table: (readonly Exact[] | undefined)[] = new Array(kit.tree.size).fill(undefined);
  for (const [name, list] of Object.entries(scores)) {
    if (list.length !== classes)
      kit.problem(`setting "scores": "${name}" has ${list.length} scores for ${classes} classes`);
    const taxon = kit.taxon(name);
    if (taxon !== undefined) table[taxon] = list.map(exactOf);
  }
  for (let taxon = 0; taxon < table.length; taxon++) table[taxon] ??= table[kit.tree.parentOf(taxon)];
  return table;
}
