import { exactOf } from "../model/exact.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { Limit, RatingClass } from "../model/segment.ts";

/** The classes of a rating table with exact limits, from best to worst as the set writes them. */
export function ratingClassesOf(classes: SetDefinition["ratings"]["classes"]): RatingClass[] {
  return classes.map((one) => ({
    rating: one.rating,
    lower: limitOf(one.lower, one.lower_included),
    upper: limitOf(one.upper, one.upper_included),
    stratum: one.stratum,
    meaning: one.meaning ?? "",
  }));
}

function limitOf(at: number | undefined, included: boolean | undefined): Limit | undefined {
  return at === undefined ? undefined : { at: exactOf(at), included: included === true };
}
