/** What a row of the synonym table is; the words are those of the table. */
export const SYNONYM_KINDS = [
  "synonym",
  "misspelling",
  "abbreviation",
  "vernacular",
  "slash",
  "group",
  "in-part",
  "ambiguous",
  "suffix",
] as const;
export type SynonymKind = (typeof SYNONYM_KINDS)[number];

/** One row of the synonym table. */
export interface SynonymRow {
  /** The other name, as sheets write it; a marker such as "(L)" for the kind `suffix`. */
  readonly name: string;
  /** The taxon of the tree it stands for; empty for the kind `suffix`. */
  readonly accepted: string;
  readonly kind: SynonymKind;
  /** Taxa it may stand for, where it is not one to one. */
  readonly candidates: readonly string[];
  /** Why, in the table's words. */
  readonly reason: string;
}
