/** Kinds of attribute a taxon may have in the shared tables. */
export const ATTRIBUTES = [
  "tolerance",
  "feeding_group",
  "feeding_group_secondary",
  "habit",
  "habit_secondary",
  "life_cycle",
  "origin",
  "conservation",
] as const;
export type Attribute = (typeof ATTRIBUTES)[number];

/** How a number was come by: read in the cited document, or recalled and to be checked. */
export type Verified = "seen" | "memory";

/** What a scheme of attribute values is: its scale, its direction, where it holds. */
export interface AttributeScheme {
  readonly scheme: string;
  readonly attribute: Attribute;
  readonly level: string;
  /** Ends of the scale; undefined for categories. */
  readonly min?: number | undefined;
  readonly max?: number | undefined;
  readonly direction: "higher-is-tolerant" | "higher-is-sensitive" | "";
  readonly region: string;
  readonly sourceId: string;
  readonly note: string;
}

export interface AttributeValue {
  /** As written in the table: "4", "5.35", "predator". */
  readonly text: string;
  readonly sourceId: string;
  readonly verified: Verified | "set";
}

/** The values of one scheme by taxon name, and families that the scheme treats as another one. */
export interface AttributeTable {
  readonly scheme: AttributeScheme;
  readonly values: ReadonlyMap<string, AttributeValue>;
  /** Taxon to the taxon it is scored as (a family split after the list was made). */
  readonly scoreAs: ReadonlyMap<string, string>;
}
