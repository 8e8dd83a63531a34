/**
 * What is left of a sample when names, exclusions, the fixed count, the level and the parents have been dealt
 * with: the taxa that the metrics see. Entries stand in code point order of the taxon names.
 */
export interface Community {
  /** Number of each taxon in the tree. */
  readonly taxa: Int32Array;
  /** Animals of each taxon; 0 for a taxon that only the large/rare search found. Fractions only after parents were distributed. */
  readonly counts: Float64Array;
  /** How many taxa the entry adds to richness: 0 for an ambiguous parent, usually 1, more for coarse tally rows. */
  readonly richness: Float64Array;
  /** Sum of `counts`. */
  readonly total: number;
}

/** What metrics may need beyond the community; undefined where it is not known. */
export interface SampleContext {
  /** Share of the sample that was sorted, above 0 up to 1. */
  readonly fractionSorted?: number | undefined;
  /** Estimated total number of animals when it was built stage by stage. */
  readonly estimatedTotal?: number | undefined;
  /** Area netted in square metres. */
  readonly areaSampledM2?: number | undefined;
  /** The community of the reference sample named in the log. */
  readonly reference?: Community | undefined;
}
