import type { Exact } from "../model/exact.ts";
import { fraction } from "../model/exact.ts";
import { percentOf } from "./percent.ts";

/** How often two samples of one place and visit get different ratings. */
export interface RatingAgreement {
  /** Pairs within groups in which both samples have a rating; a group of three makes three pairs. */
  readonly pairs: number;
  readonly differing: number;
  /** 100 x differing / pairs; undefined when there is no pair. */
  readonly percentDiffering: Exact | undefined;
  /** Pairs left out because a sample has no rating. */
  readonly withoutRating: number;
}

/**
 * Share of pairs whose rating differs, as Stribling, Jessup and Feldman 2008 (J. N. Am. Benthol. Soc. 27:58-67)
 * report it for duplicates.
 *
 * @param groups the ratings of each group; empty where a sample has none
 */
export function ratingAgreement(groups: readonly (readonly string[])[]): RatingAgreement {
  let pairs = 0;
  let differing = 0;
  let withoutRating = 0;
  for (const ratings of groups) {
    ratings.forEach((first, at) => {
      for (const second of ratings.slice(at + 1)) {
        if (first === "" || second === "") withoutRating++;
        else {
          pairs++;
          if (first !== second) differing++;
        }
      }
    });
  }
  return {
    pairs,
    differing,
    percentDiffering: percentOf(fraction(differing), fraction(pairs)),
    withoutRating,
  };
}
