/** Animals of one pile that count: one name and stage of a sample, after the draw. */
export interface CountedPile {
  /** Number in the tree, before the roll-up. */
  readonly taxon: number;
  /** Animals left by the draw; 0 when it took none of them. */
  readonly count: number;
  /** Found in the search for large and rare animals only. */
  readonly largeRare: boolean;
  /** What the taxonomist wrote in the column `distinct`. */
  readonly distinct: "yes" | "no" | "";
  /** How many different taxa the row stands for; 1 usually, more on coarse tally sheets. */
  readonly numberOfTaxa: number;
  /**
   * Animals before the draw, when there was one. A pile with count 0 that had animals before it was lost in the
   * draw: a record that the taxonomist called not distinct because of it is then judged again.
   */
  readonly beforeDraw?: number | undefined;
}
