import type { RareTaxa } from "../../metrics/measures/rare-taxa.ts";

/**
 * Taxa of a group that are in the jar and were not met, at least: the lower bound of Chao A & Lin C-W 2012,
 * Nonparametric lower bounds for species richness and shared species richness under sampling without replacement,
 * Biometrics 68:912-921, f1^2 / ((n / (n - 1)) 2 f2 + (q / (1 - q)) f1) with q the share of the jar that was
 * looked at; for an endless jar it is that of Chao A 1984, Scand. J. Stat. 11:265-270. Without a taxon met twice
 * the bias-corrected f1 (f1 - 1) / 2 stands in place of f1^2 / (2 f2). Recalled, not seen.
 *
 * @param units animals looked at, or grids
 * @param share share of the jar looked at; 0 for an endless one
 */
export function unseenTaxa({ once, twice }: RareTaxa, units: number, share: number): number {
  if (once === 0 || share >= 1) return 0;
  const odds = share / (1 - share);
  // Endless for a single unit, of which nothing can be told: the bound is 0 then.
  const factor = units / (units - 1);
  if (twice === 0) {
    // Points that taxa bring to grids can make less than one taxon.
    const further = Math.max(0, once - 1);
    return (once * further) / (2 * factor + odds * further);
  }
  return (once * once) / (2 * factor * twice + odds * once);
}

/** What is known of a number of taxa: of all units looked at, and to be expected in one draw. */
export interface RichnessFacts {
  readonly rare: RareTaxa;
  /** Animals looked at, or grids, and the share of the jar that they are. */
  readonly units: number;
  readonly share: number;
  /** Units of one draw, and taxa to be expected in it and in all units. */
  readonly drawn: number;
  readonly inDraw: number;
  readonly inAll: number;
}

/**
 * Variance of a number of taxa from draw to draw: as many taxa as one draw is expected to have that another draw
 * does not have. Were taxa met independently of each other, each with a probability p, the variance would be the
 * sum of p (1 - p), and so is the expected number of such taxa. Taxa beyond those that were met are extrapolated
 * after Chao A, Gotelli NJ, Hsieh TC et al. 2014 (Ecol. Monogr. 84:45-67):
 * S(n + m) - S(n) = f0 (1 - (1 - f1 / (n f0 + f1))^m). That animals compete for a fixed count makes the variance a
 * little smaller than this, and that f0 is a lower bound makes this a little too small.
 */
export function richnessVariance(facts: RichnessFacts): number {
  const { rare, units, share, drawn, inDraw, inAll } = facts;
  // Another draw shares some units with the first where the jar has an end.
  const shareOfDraw = (share * drawn) / units;
  const fresh = drawn * (1 - shareOfDraw);
  const between = Math.max(0, inAll - inDraw);
  const spare = units - drawn;
  if (fresh < spare) return (between * Math.log1p(fresh / drawn)) / Math.log(units / drawn);
  const unseen = unseenTaxa(rare, units, share);
  if (unseen === 0) return between;
  const slope = rare.once / (units * unseen + rare.once);
  return between + unseen * (1 - (1 - slope) ** (fresh - spare));
}

/**
 * Degrees of freedom of `richnessVariance`. In its leading term it is the number of taxa met once (Good IJ 1953, The
 * population frequencies of species and the estimation of population parameters, Biometrika 40:237-264: the chance
 * that the next animal is of a new taxon), and where more units were looked at than one draw has, the number of
 * taxa that lie between. These are counts of rare things, and k of them speak for their mean with 2 k + 1 degrees
 * of freedom: the posterior of a Poisson mean with Jeffreys' prior is a chi-square of so many (recalled).
 */
export function richnessDegrees({ rare, inDraw, inAll }: RichnessFacts): number {
  return 2 * (rare.once + Math.max(0, inAll - inDraw)) + 1;
}

/**
 * Taxa not met so far that a resample finds in a group. Their expected number is what the resample loses on average
 * of the taxa that were met, so that its expected richness is the observed one and not below it (the curve of
 * rarefaction and extrapolation passes through the observed richness at the number of animals observed, Chao et
 * al. 2014). Unseen taxa are counted and nothing else: nobody knows their order or their tolerance, so means and
 * percentages are without them.
 *
 * The distribution is binomial, Poisson or negative binomial, whichever has the mean and the variance (the class of
 * Panjer HH 1981, ASTIN Bull. 12:22-26: p(k) = p(k - 1) (a + b / k)).
 */
export class UnseenFinds {
  /** Probabilities of at most 0, 1, 2 ... finds. */
  readonly #upTo: readonly number[];
  /** For each of `STEPS` equal stretches of shares the finds where it begins: the search goes on from there. */
  readonly #from: Int32Array;

  /**
   * @param loss taxa that a resample loses on average
   * @param variance of the finds; the mean has at least the variance of whole numbers next to it
   */
  constructor(loss: number, variance: number) {
    const upTo = loss > 0 ? cumulative(loss, Math.min(variance, MOST_SPREAD * loss)) : [];
    this.#upTo = upTo;
    let finds = 0;
    this.#from = Int32Array.from({ length: STEPS }, (_, step) => {
      while (finds < upTo.length && step / STEPS >= (upTo[finds] as number)) finds++;
      return finds;
    });
  }

  /** @param share where the resample stands between few and many finds, from 0 to below 1 */
  finds(share: number): number {
    const upTo = this.#upTo;
    let finds = this.#from[Math.trunc(share * STEPS)] as number;
    while (finds < upTo.length && share >= (upTo[finds] as number)) finds++;
    return finds;
  }
}

const STEPS = 64;
/** A variance of more than so many times the mean says that the estimates do not fit together. */
const MOST_SPREAD = 3;
const MOST_FINDS = 10_000;
/** Below this, products of probabilities lose digits. */
const TINY = 1e-290;

function cumulative(mean: number, variance: number): number[] {
  let a = 0;
  let b = mean;
  let one = Math.exp(-mean);
  let log = -mean;
  let most = MOST_FINDS;
  if (variance < mean * 0.999) {
    most = Math.ceil((mean * mean) / (mean - Math.max(variance, 0)) - 1e-9);
    const p = mean / Math.max(most, Math.floor(mean) + 1);
    most = Math.max(most, Math.floor(mean) + 1);
    a = -p / (1 - p);
    b = (most + 1) * -a;
    one = (1 - p) ** most;
    log = most * Math.log1p(-p);
  } else if (variance > mean * 1.001) {
    a = 1 - mean / variance;
    b = mean * (1 - a) - a;
    const size = (mean * mean) / (variance - mean);
    one = (1 - a) ** size;
    log = size * Math.log1p(-a);
  }
  const upTo: number[] = [];
  // Where no find at all is too rare for floating point, probabilities go by their logarithms.
  const isTiny = one < TINY;
  let sum = 0;
  for (let finds = 0; finds < most && sum < 1 - 1e-12; finds++) {
    sum += isTiny ? Math.exp(log) : one;
    upTo.push(sum);
    const times = a + b / (finds + 1);
    one *= times;
    log += Math.log(times);
  }
  return upTo;
}
