import type { CompiledAttribute } from "../model/attribute-lookup.ts";
import { numberText } from "../model/number-text.ts";

/** The category of a taxon, undefined where it has none. */
export function categoryOf(attribute: CompiledAttribute, taxon: number): string | undefined {
  return attribute.has[taxon] === 1 ? attribute.categories[attribute.category[taxon] as number] : undefined;
}

/** The numeric value of a taxon, undefined where it has none. */
export function numberOf(attribute: CompiledAttribute, taxon: number): number | undefined {
  return attribute.has[taxon] === 1 && attribute.categories.length === 0
    ? (attribute.scaled[taxon] as number) / attribute.scale
    : undefined;
}

/** The value of a taxon in words or digits, undefined where it has none. */
export function valueText(attribute: CompiledAttribute, taxon: number): string | undefined {
  const value = numberOf(attribute, taxon);
  return value === undefined ? categoryOf(attribute, taxon) : numberText(value);
}
