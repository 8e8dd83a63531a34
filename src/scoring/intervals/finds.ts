import { at } from "../../model/at.ts";
import { meanOf, varianceOf } from "./interval.ts";
import { plainDraws } from "./plain-draws.ts";
import { rareInGrids } from "./rare-in-grids.ts";
import type { ResamplingJob } from "./resampling-job.ts";
import { richnessDegrees, richnessVariance, UnseenFinds } from "./unseen-taxa.ts";
import { smallness, unitsOf } from "./variance-design.ts";

/** Resamples from which means are estimated before the resampling begins. */
export const PILOT = 100;

/** What taxa not met so far add to the metrics of a resample that count taxa or their points. */
export interface MetricFinds {
  readonly metric: number;
  /** Degrees of freedom of the variance that the resamples of the metric get. */
  readonly degrees: number;
  /**
   * @param different how many different grids the resample is from
   * @param share where it stands between few and many finds, 0 to 1
   */
  add(different: number, share: number): number;
}

/**
 * Works out for each metric that counts taxa what is to be added to its resamples, so that they have the observed
 * richness on average and the variance of draws from the jar.
 *
 * A resample of grids has some grids twice and is without others. How much richness it loses hangs on how many
 * different ones it has, which is nothing that a real draw does; the loss is therefore taken as a straight line in
 * that number.
 *
 * @param expected value of each metric that is to be expected in a draw
 */
export function findsOf(job: ResamplingJob, expected: Float64Array): readonly MetricFinds[] {
  const { evaluator, jar, design } = job;
  if (job.ways.unseen === "none" || evaluator.rareTaxa.every((rare) => rare === undefined)) return [];
  const { different, values } = plainDraws(evaluator, jar, job.counts.length, PILOT);
  const none = new Float64Array(evaluator.metrics);
  evaluator.evaluate(Int32Array.from(job.counts), none);
  const inAll = Float64Array.from(evaluator.values);
  const { units, share } = unitsOf(design);
  const isGrids = design.kind === "grids";
  const small = isGrids ? smallness(design.grids, design.onTray) : 1;
  const { grids } = job;
  const rareTaxa = grids === undefined ? evaluator.rareTaxa : rareInGrids(evaluator, job.counts, grids);
  return rareTaxa.flatMap((rare, metric) => {
    if (rare === undefined || rare.each === 0) return [];
    // In taxa, also where each brings points.
    const { each } = rare;
    const line = lineOf(
      different,
      at(values, metric).map((value) => value / each),
    );
    const inDraw = (expected[metric] as number) / each;
    const ofAll = isGrids ? inDraw : (inAll[metric] as number) / each;
    const drawn = isGrids ? units : design.drawn;
    const facts = { rare, units, share, drawn, inDraw, inAll: ofAll };
    const wanted = richnessVariance(facts) / small;
    const known: (UnseenFinds | undefined)[] = [];
    return [
      {
        metric,
        degrees: richnessDegrees(facts),
        add: (of: number, place: number) => {
          let finds = known[of];
          if (finds === undefined) {
            finds = new UnseenFinds(inDraw - line.at(of), wanted - line.rest);
            known[of] = finds;
          }
          return Math.round(finds.finds(place) * each);
        },
      },
    ];
  });
}

/** Least squares line of `y` in `x`, and the variance that it leaves; level where `x` does not vary. */
function lineOf(
  x: Float64Array,
  y: Float64Array,
): { readonly at: (x: number) => number; readonly rest: number } {
  const [meanX, meanY] = [meanOf(x), meanOf(y)];
  let products = 0;
  let squares = 0;
  for (let i = 0; i < x.length; i++) {
    products += ((x[i] as number) - meanX) * ((y[i] as number) - meanY);
    squares += ((x[i] as number) - meanX) ** 2;
  }
  const slope = squares === 0 ? 0 : products / squares;
  const rest = varianceOf(y) - (slope * products) / (x.length - 1);
  return { at: (place) => meanY + slope * (place - meanX), rest: Math.max(0, rest) };
}
