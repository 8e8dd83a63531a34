import type { ReferenceSet } from "../../reference/set.ts";
import { classesFor } from "../../scoring/rate.ts";
import type { ComparedSample } from "./compare.ts";

/** What became of a rating: better, worse, other where the classes have other names, or the same. */
export type RatingMove = "up" | "down" | "other" | "same";

/**
 * Which way a rating went. Ratings are compared by their place between the best and the worst class; where the
 * two sets call their classes differently, better and worse cannot be told.
 */
export function ratingMove(
  { before, after }: Pick<ComparedSample, "before" | "after">,
  setBefore: Pick<ReferenceSet, "classes">,
  setAfter: Pick<ReferenceSet, "classes">,
): RatingMove {
  if (before.rating === after.rating) return "same";
  const old = ratingNames(setBefore, before.stratum);
  const now = ratingNames(setAfter, after.stratum);
  if (JSON.stringify(old) !== JSON.stringify(now)) return "other";
  const [from, to] = [placeOf(before.rating, old), placeOf(after.rating, now)];
  if (from === undefined || to === undefined) return "other";
  return to < from ? "up" : "down";
}

/** The classes of a stratum from best to worst. */
function ratingNames(set: Pick<ReferenceSet, "classes">, stratum: string): string[] {
  return classesFor(set.classes, stratum).map((one) => one.rating);
}

/** The place of a rating; a rating between two classes stands in the middle of them. */
function placeOf(rating: string, names: readonly string[]): number | undefined {
  const at = names.indexOf(rating);
  if (at >= 0) return at;
  for (let low = 0; low < names.length; low++) {
    for (let high = 0; high < names.length; high++) {
      if (rating === `between ${names[low]} and ${names[high]}`) return (low + high) / 2;
    }
  }
  return undefined;
}
