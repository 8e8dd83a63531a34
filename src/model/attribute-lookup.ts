import type { Attribute, AttributeScheme } from "./attributes.ts";

/** One attribute worked out for every taxon of a tree: its own value or that of the lowest ancestor that has one. */
export interface CompiledAttribute {
  readonly scheme: AttributeScheme;
  /** 1 where the taxon has a value. */
  readonly has: Uint8Array;
  /** Numeric schemes: the value times `scale`, a whole number; 0 where there is none. */
  readonly scaled: Int32Array;
  /** 10 to the power of the most decimals in the table; 1 for categories. */
  readonly scale: number;
  /** Category schemes: number of the category of each taxon in `categories`; -1 where there is none. */
  readonly category: Int16Array;
  readonly categories: readonly string[];
  /** The taxon whose row gave the value; -1 where there is none. */
  readonly from: Int32Array;
}

/** The attributes a set uses, by kind. */
export type AttributeLookup = ReadonlyMap<Attribute, CompiledAttribute>;
