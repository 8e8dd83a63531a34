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
  if (once === 0 || units < 2 || share >= 1) return 0;
  const odds = share / (1 - share);
  const factor = units / (units - 1);
  if (twice === 0) return (once * (once - 1)) / (2 * factor + odds * Math.max(once - 1, 0));
  return (once * once) / (2 * factor * twice + odds * once);
}

/**
 * Taxa not met so far that a resample finds in a group, so that its expected richness is the observed one and not
 * below it: each of the unseen taxa is found with the same probability, and their expected number is what the
 * resample loses on average of the taxa that were met (the curve of rarefaction and extrapolation passes through
 * the observed richness at the number of animals observed: Chao A et al. 2014, Rarefaction and extrapolation with
 * Hill numbers, Ecol. Monogr. 84:45-67). Unseen taxa are counted and nothing else: nobody knows their order or
 * their tolerance, so means and percentages are without them.
 */
export class UnseenFinds {
  /** Probabilities of at most 0, 1, 2 ... finds. */
  readonly #upTo: Float64Array;

  /**
   * @param unseen estimated number of taxa not met
   * @param loss taxa that a resample loses on average, 0 or more
   */
  constructor(unseen: number, loss: number) {
    if (!(loss > 0)) {
      this.#upTo = new Float64Array(0);
      return;
    }
    const taxa = Math.ceil(Math.max(unseen, loss + 1e-9));
    const each = loss / taxa;
    const upTo = new Float64Array(taxa);
    let one = (1 - each) ** taxa;
    let sum = 0;
    for (let finds = 0; finds < taxa; finds++) {
      sum += one;
      upTo[finds] = sum;
      one *= ((taxa - finds) / (finds + 1)) * (each / (1 - each));
    }
    this.#upTo = upTo;
  }

  /** @param share where the resample stands between few and many finds, 0 to 1 */
  finds(share: number): number {
    const upTo = this.#upTo;
    let finds = 0;
    while (finds < upTo.length && share >= (upTo[finds] ?? 1)) finds++;
    return finds;
  }
}
