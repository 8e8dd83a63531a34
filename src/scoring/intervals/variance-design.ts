import { degreesOfSum } from "./degrees.ts";
import type { LeftOut } from "./left-out-grids.ts";
import { pooledBetween } from "./left-out-grids.ts";
import type { ResamplingPlan } from "./plan.ts";

/** How the animals of a sample came out of their jar. */
export interface SamplingDesign {
  /** What was picked at random: single animals, or grids of a tray with all their animals. */
  readonly kind: "animals" | "grids";
  /** Animals in the jar; undefined for an endless one. */
  readonly jar: number | undefined;
  /** Animals counted, and animals of a fixed-count draw. */
  readonly counted: number;
  readonly drawn: number;
  /** Grids picked and grids on the tray, where grids were; an endless tray is undefined. */
  readonly grids: number;
  readonly onTray: number | undefined;
  /** Everything was sorted: all that varies is the draw from the animals counted. */
  readonly isWhole: boolean;
  /** Whether resamples were drawn with replacement although the jar has an end. */
  readonly isDrawnEndless: boolean;
}

/** What was picked at random and the share of it that was looked at, for estimates of taxa not met. */
export function unitsOf(design: SamplingDesign): { readonly units: number; readonly share: number } {
  const { kind, jar, counted, grids, onTray } = design;
  return kind === "grids"
    ? { units: grids, share: onTray === undefined ? 0 : grids / onTray }
    : { units: counted, share: jar === undefined ? 0 : counted / jar };
}

/** Degrees of freedom of a variance that comes from single animals: more than matter. */
const MANY = Number.POSITIVE_INFINITY;

/** By what distances of resamples from their mean are multiplied, and how well their variance is known. */
export interface Stretch {
  readonly stretch: number;
  /**
   * Degrees of freedom of what differs from grid to grid; for animals, of all that varies.
   *
   * @param ofTaxa those of a number of taxa, see `richnessDegrees`; undefined for other numbers
   */
  unitDegrees(ofTaxa: number | undefined): number;
  /** Degrees of freedom of the whole variance, from those of what differs from grid to grid. */
  degrees(ofUnits: number): number;
}

const ANIMALS_DEGREES: Omit<Stretch, "stretch"> = {
  unitDegrees: (ofTaxa) => ofTaxa ?? MANY,
  degrees: (ofUnits) => ofUnits,
};

/**
 * By what distances of resamples from their mean are multiplied, so that their variance is that of the quantity
 * the interval is about.
 *
 * For animals, with N in the jar, C counted and n drawn: one draw has a variance in proportion to 1/n - 1/N, the
 * mean over draws from the animals counted one to 1/C - 1/N (of which this is an upper bound for statistics that
 * are no sums: Hoeffding W 1948, Ann. Math. Stat. 19:293-325). For the mean of the jar the second counts, for
 * another draw both. A jar made of C animals varies by (C - 1) / C too little (Rao JNK & Wu CFJ 1988, Resampling
 * inference with complex survey data, J. Am. Stat. Assoc. 83:231-241), and by N / (N - 1) too much.
 *
 * For grids the same holds with grids for animals, and matters: of 4 grids, resamples vary by a quarter too
 * little. The share of the draw from the animals counted is measured, not worked out. What varies between grids is
 * estimated a second time by leaving grids out, and both are pooled.
 *
 * @param total variance of the resamples
 * @param drawVariance variance of draws from the animals counted; 0 where the score rests on all of them
 * @param leftOut what leaving grids out says of the same number
 */
export function stretchOf(
  design: SamplingDesign,
  { interval }: Pick<ResamplingPlan, "interval">,
  total: number,
  drawVariance: number,
  leftOut?: LeftOut,
): Stretch {
  const { kind, counted, drawn, jar, isDrawnEndless } = design;
  const ofJar = jar === undefined ? 0 : 1 / jar;
  const ofDraw = 1 / drawn - (isDrawnEndless ? 0 : ofJar);
  const ofMean = Math.max(0, 1 / counted - ofJar);
  // No draw varies that takes the whole jar.
  const byDraw = (part: number) => (ofDraw === 0 ? 0 : part / ofDraw);
  if (kind === "animals") {
    const small = smallness(counted, jar);
    const wanted = interval === "mean" ? ofMean : ofMean + 1 / drawn - ofJar;
    return { stretch: Math.sqrt(Math.max(0, byDraw(wanted) * small)), ...ANIMALS_DEGREES };
  }
  const { grids, onTray } = design;
  if (onTray !== undefined && onTray <= grids)
    return { stretch: interval === "mean" ? 0 : 1, ...ANIMALS_DEGREES };
  if (total === 0) return { stretch: 1, ...ANIMALS_DEGREES };
  const ofGrids = Math.max(0, total - drawVariance) * smallness(grids, onTray);
  // Clumped or not: no less than single animals would make of it.
  const least = (ofGrids + Math.min(total, drawVariance)) * Math.min(1, byDraw(ofMean));
  const between = pooledBetween(Math.max(least, ofGrids), leftOut);
  const wanted = interval === "mean" ? between : 2 * between + drawVariance;
  const times = interval === "mean" ? 1 : 2;
  const share = ofGrids / (ofGrids + drawVariance);
  return {
    stretch: Math.sqrt(wanted / total),
    // A number of taxa has a variance that comes from many taxa, of which that of the draw was taken off.
    unitDegrees: (ofTaxa) => Math.max(grids - 1, ofTaxa === undefined ? 0 : ofTaxa * share ** 2),
    // What differs from grid to grid is known from few grids, the draw of another fixed count from many animals.
    degrees: (ofUnits) =>
      degreesOfSum([
        { variance: times * between, degrees: ofUnits },
        { variance: wanted - times * between, degrees: MANY },
      ]),
  };
}

/** Corrects a variance of resamples of few units, of a whole that may have an end. */
export function smallness(units: number, whole: number | undefined): number {
  if (units < 2) return 1;
  return (units / (units - 1)) * (whole === undefined ? 1 : (whole - 1) / whole);
}
