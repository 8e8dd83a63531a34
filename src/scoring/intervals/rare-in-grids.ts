import type { RareTaxa } from "../../metrics/measures/rare-taxa.ts";
import { at } from "../../model/at.ts";
import type { ResampleEvaluator } from "./resampling-job.ts";

/** Pairs of grids that are looked at, at most; of more grids neighbours at growing distance stand for all pairs. */
const MOST_PAIRS = 45;

/**
 * The rare taxa of each metric by grids: how many were met in one grid only, and in two. Where whole grids were
 * picked at random they take the place of taxa with one animal and with two (incidence data of Chao A 1987,
 * Estimating the population size for capture-recapture data with unequal catchability, Biometrics 43:783-791;
 * recalled): ten animals of one clump were met once.
 *
 * They are found by leaving grids out: what a metric loses without one grid it has from that grid alone, and what
 * it loses without two besides is in just these two. So whatever a metric makes of rows (groups, parents, points)
 * is made here too.
 *
 * @param counts animals of each pile
 * @param grids the same grid by grid
 */
export function rareInGrids(
  evaluator: ResampleEvaluator,
  counts: readonly number[],
  grids: readonly Int32Array[],
): readonly (RareTaxa | undefined)[] {
  const { metrics, rareTaxa } = evaluator;
  const none = new Float64Array(metrics);
  const left = new Int32Array(counts.length);
  const whole = new Float64Array(metrics);
  /** What each metric loses without some grids. */
  const lossWithout = (...without: readonly number[]): Float64Array => {
    left.set(counts);
    for (const one of without)
      for (const [pile, count] of at(grids, one).entries()) left[pile] = (left[pile] as number) - count;
    evaluator.evaluate(left, none);
    return evaluator.values.map((value, metric) => at(whole, metric) - value);
  };
  evaluator.evaluate(Int32Array.from(counts), none);
  whole.set(evaluator.values);
  const alone = grids.map((_, one) => lossWithout(one));
  const pairs = pairsOf(grids.length);
  const together = pairs.map(([one, other]) => {
    const [ofOne, ofOther] = [at(alone, one), at(alone, other)];
    return lossWithout(one, other).map((loss, metric) => loss - at(ofOne, metric) - at(ofOther, metric));
  });
  const allPairs = (grids.length * (grids.length - 1)) / 2;
  return rareTaxa.map((rare, metric) => {
    if (rare === undefined || rare.each === 0) return rare;
    const sum = (lists: readonly Float64Array[]) =>
      Math.max(0, lists.reduce((all, list) => all + at(list, metric), 0) / rare.each);
    return { once: sum(alone), twice: (sum(together) * allPairs) / pairs.length, each: rare.each };
  });
}

/** All pairs of grids, or neighbours at distances from 1 on in a ring of them. */
function pairsOf(grids: number): [number, number][] {
  const pairs: [number, number][] = [];
  for (let distance = 1; 2 * distance <= grids; distance++) {
    const starts = 2 * distance === grids ? distance : grids;
    if (pairs.length > 0 && pairs.length + starts > MOST_PAIRS) break;
    for (let one = 0; one < starts; one++) pairs.push([one, (one + distance) % grids]);
  }
  return pairs;
}
