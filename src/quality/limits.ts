import type { Exact } from "../model/exact.ts";
import { fraction } from "../model/exact.ts";
import type { QualityLimit } from "./judgement.ts";

/** A usual limit, where it comes from, and whether that was read or is recalled. */
export interface UsualLimit extends QualityLimit {
  readonly source: string;
}

function usual(side: QualityLimit["side"], at: Exact, source: string): UsualLimit {
  return { side, at, source };
}

/** Limits in use in the trade, all in percent; a laboratory's own protocol goes before them. */
export const USUAL_LIMITS = {
  sortingEfficiency: usual(
    "at-least",
    fraction(90),
    "Barbour, Gerritsen, Snyder and Stribling 1999, EPA 841-B-99-002, appendix A-3 form 3",
  ),
  enumeration: usual(
    "at-most",
    fraction(5),
    "Stribling, Moulton and Lester 2003, J. N. Am. Benthol. Soc. 22:621-631 (recalled)",
  ),
  disagreement: usual(
    "at-most",
    fraction(15),
    "US EPA, Biological Indicators of Watershed Health, measurement quality objectives",
  ),
  relativeDifference: usual(
    "at-most",
    fraction(15),
    "US EPA, Biological Indicators of Watershed Health, measurement quality objectives",
  ),
} as const;
