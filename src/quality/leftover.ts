/** Animals of one name on one sheet for which the other sheet has no animal of that name. */
export interface Leftover {
  readonly taxon: number;
  readonly count: number;
  /** True when the other sheet has the name too, only with fewer animals. */
  readonly isShared: boolean;
}

/** Animals that are one name on the first sheet and another one on the second. */
export interface NamePair {
  readonly primary: number;
  readonly recheck: number;
  readonly count: number;
}
