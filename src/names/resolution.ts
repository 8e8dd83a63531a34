import type { LifeStage } from "../model/life-stage.ts";
import type { OperationalTaxon } from "../model/taxon-tree.ts";

/**
 * How a name was found: letter for letter; in another spelling (capitals, stops, "sp.", a stage behind it);
 * through the synonym table; through the lab's own list of names.
 */
export type ResolvedVia = "exact" | "spelling" | "synonym" | "lab-list";

/** A doubt that does not keep the name from being used. */
export interface NameWarning {
  /**
   * `ambiguous`: the name has meant several taxa; `in-part`: usually but not always that taxon; `uncertain`:
   * the sheet itself says so ("cf.", "?").
   */
  readonly kind: "in-part" | "ambiguous" | "uncertain";
  readonly text: string;
}

interface Found {
  readonly via: ResolvedVia;
  /** From a marker of the name such as "(L)"; the sheet's own column is a fact beside it. */
  readonly stage?: LifeStage | undefined;
  readonly warning?: NameWarning | undefined;
  /** The synonym table's reason, when a row of it led to the taxon. */
  readonly reason?: string | undefined;
}

/** What a name of the sheet turned out to be. */
export type Resolution =
  | (Found & { readonly kind: "taxon" /** Name in the tree. */; readonly taxon: string })
  | (Found & { readonly kind: "operational"; readonly operational: OperationalTaxon })
  | {
      readonly kind: "unknown";
      /** Up to three close names, nearest first. */
      readonly suggestions: readonly string[];
      /** The genus of an unlisted species, or the taxon in front of what was not understood, if it is known. */
      readonly within?: string | undefined;
    };

/** The lab's own list: names as on the sheet and what the lab decided that they are. */
export type LabNameMap = ReadonlyMap<string, { readonly accepted: string }>;
