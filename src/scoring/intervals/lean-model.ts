import type { WhenNoneBelow } from "../../metrics/lean.ts";
import type { RareTaxa } from "../../metrics/measures/rare-taxa.ts";
import type { PieceTable } from "./piece-table.ts";

/** Entries of a list with a weight, and the weights. */
export interface WeightedEntries {
  readonly entries: Int32Array;
  readonly weights: Float64Array;
}

/**
 * One sample as plain numbers: its records (entries) at the set's level and everything that is worked out from their
 * counts. It can be handed to another thread as it is.
 */
export interface LeanModel {
  readonly entries: number;
  /** For each pile of the draw the entry that its animals belong to. */
  readonly entryOf: Int32Array;
  /** Taxa that each entry stands for. */
  readonly kinds: Int32Array;
  /** 1 for entries that the search for large and rare animals found: they are there whatever is drawn. */
  readonly found: Uint8Array;
  /** 1 for entries that a taxonomist calls distinct in any case. */
  readonly alwaysDistinct: Uint8Array;
  /** Entries with finer ones below them, finest first, and those below each; none when all are of different lines. */
  readonly parents: readonly { readonly entry: number; readonly finer: Int32Array }[];
  readonly metrics: readonly LeanMetric[];
  readonly scoring: readonly LeanScoring[];
  readonly index: LeanIndex;
  readonly rareTaxa: readonly (RareTaxa | undefined)[];
}

/** A metric over the entries of a sample; see `LeanForm` for what the kinds are. */
export type LeanMetric =
  | {
      readonly kind: "animals";
      readonly above: WeightedEntries;
      /** Undefined: all animals. */
      readonly below: WeightedEntries | undefined;
      readonly aboveTimes: number;
      readonly belowTimes: number;
      readonly most: number;
      readonly whenNoneBelow: WhenNoneBelow;
    }
  | { readonly kind: "taxa"; readonly entries: Int32Array; readonly groups: Int32Array | undefined }
  | {
      readonly kind: "taxa-quotient";
      readonly above: Int32Array;
      /** Undefined: all entries. */
      readonly below: Int32Array | undefined;
      readonly times: number;
      readonly whenNoneBelow: WhenNoneBelow;
    }
  | {
      readonly kind: "taxa-sum";
      readonly members: WeightedEntries;
      readonly scale: number;
      readonly each: "taxon" | "row" | "presence";
      readonly result: "sum" | "number" | "average";
      readonly times: number;
    }
  | {
      readonly kind: "dominants";
      readonly entries: Int32Array;
      /** For each of `entries` the number of its group. */
      readonly groups: Int32Array | undefined;
      readonly taxaTogether: number;
      readonly times: number;
    }
  | {
      readonly kind: "shannon";
      readonly entries: Int32Array;
      readonly groups: Int32Array | undefined;
      readonly base: number;
    }
  /** Worked out as it always is; such a model stays in its thread. */
  | { readonly kind: "other"; readonly metric: number };

/** How the value of a metric becomes a score. */
export interface LeanScoring {
  /** Taken off the value before it is rounded; NaN when what decides it is missing. */
  readonly less: number;
  /** Decimals of the value, -1 for none. */
  readonly decimals: number;
  /** 0: the value itself; 1: the value in percent of `reference`; -1: `reference` in percent of the value. */
  readonly percent: -1 | 0 | 1;
  readonly reference: number;
  /** Undefined for a metric that counts as it is. */
  readonly table: PieceTable | undefined;
}

/** How scores become the index and the rating. */
export interface LeanIndex {
  readonly method: "sum" | "mean" | "weighted-mean" | "scaled-sum" | "metric";
  readonly metric: number;
  readonly weights: Float64Array;
  readonly leaveOut: boolean;
  /** Index of a perfect sample over the sum of one. */
  readonly scale: number;
  /** Decimals to which the index is rounded before it is classed; -1 for none. */
  readonly decimals: number;
  /** Numbers of the ratings. */
  readonly classes: PieceTable;
}
