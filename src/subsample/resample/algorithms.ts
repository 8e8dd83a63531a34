/** One version of resampling. Its id goes into the hash that starts the random stream; what a version draws never changes. */
export interface ResampleAlgorithm {
  /** Name, slash, version. */
  readonly id: string;
  readonly summary: string;
}

/** How samples are resampled whose animals are, or are not, told apart by grid. */
export const RESAMPLE_ALGORITHMS: Readonly<Record<"animals" | "grids", ResampleAlgorithm>> = {
  animals: {
    id: "resample-individual/1",
    summary:
      "Each animal stands in a jar as often as the fraction sorted says; fixed counts are drawn from it without replacement, from an endless jar with replacement.",
  },
  grids: {
    id: "resample-grid/1",
    summary:
      "Each grid stands on a tray as often as the share of grids sorted says; as many grids as were sorted are picked from it, and the fixed count from their animals.",
  },
};
