import type { Exact } from "../model/exact.ts";
import { absolute, compareExact, subtract, toNumber } from "../model/exact.ts";
import type { RatingClass } from "../model/segment.ts";
import { compareSpans, contains, isAboveLower, isBelowUpper } from "./limits.ts";

export interface Rating {
  /** The class in words; "between A and B" in a deliberate gap; empty when no class holds the index. */
  readonly rating: string;
  readonly classes: readonly RatingClass[];
}

/** The classes that hold for a stratum: those made for it, else those made for all. */
export function classesFor(classes: readonly RatingClass[], stratum: string): readonly RatingClass[] {
  let known = CLASSES_BY_STRATUM.get(classes);
  if (known === undefined) {
    known = new Map();
    CLASSES_BY_STRATUM.set(classes, known);
  }
  let found = known.get(stratum);
  if (found === undefined) {
    const own = classes.filter((one) => one.stratum === stratum);
    found = own.length > 0 ? own : classes.filter((one) => one.stratum === undefined);
    known.set(stratum, found);
  }
  return found;
}

/** Worked out once for a stratum, since every sample asks. */
const CLASSES_BY_STRATUM = new WeakMap<readonly RatingClass[], Map<string, readonly RatingClass[]>>();

/**
 * Puts an index into its class.
 *
 * @param index rounded or not, as the set says
 * @param gaps `between`: an index in a gap is rated "between A and B", worse class first on the scale
 */
export function rate(index: Exact, classes: readonly RatingClass[], gaps: "none" | "between"): Rating {
  const inside = classes.find((one) => contains(one, index));
  if (inside !== undefined) return { rating: inside.rating, classes: [inside] };
  if (gaps === "none") return { rating: "", classes: [] };
  const sorted = [...classes].sort(compareSpans);
  const below = sorted.filter((one) => !isBelowUpper(index, one)).at(-1);
  const above = sorted.find((one) => !isAboveLower(index, one));
  if (below === undefined || above === undefined) return { rating: "", classes: [] };
  return { rating: `between ${below.rating} and ${above.rating}`, classes: [below, above] };
}

/** The stretch that classes cover, as plain numbers; infinite at an open end and where there are none. */
export function classRange(classes: readonly RatingClass[]): readonly [number, number] {
  const ends = (of: "lower" | "upper", open: number) =>
    classes.map((one) => (one[of] === undefined ? open : toNumber(one[of].at)));
  const [least, most] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  if (classes.length === 0) return [least, most];
  return [Math.min(...ends("lower", least)), Math.max(...ends("upper", most))];
}

/** How far an index lies from the nearest limit at which the class changes; undefined when there is none. */
export function distanceToNextClass(
  index: Exact,
  classes: readonly RatingClass[],
): { readonly distance: Exact; readonly limit: Exact; readonly rating: string } | undefined {
  const sorted = [...classes].sort(compareSpans);
  const own = sorted.findIndex((one) => contains(one, index));
  const held = sorted[own];
  if (held === undefined) return undefined;
  const candidates = [
    { limit: held.lower?.at, rating: sorted[own - 1]?.rating },
    { limit: held.upper?.at, rating: sorted[own + 1]?.rating },
  ];
  let nearest: { distance: Exact; limit: Exact; rating: string } | undefined;
  for (const { limit, rating } of candidates) {
    if (limit === undefined || rating === undefined) continue;
    const distance = absolute(subtract(index, limit));
    if (nearest === undefined || compareExact(distance, nearest.distance) < 0)
      nearest = { distance, limit, rating };
  }
  return nearest;
}
