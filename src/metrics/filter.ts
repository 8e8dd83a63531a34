import type * as z from "zod";
import type { Attribute } from "../model/attributes.ts";
import type { Exact } from "../model/exact.ts";
import { compareExact, exactOf, fraction } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import { RANKS } from "../model/taxon-tree.ts";
import { categoryOf, numberOf } from "./attribute-text.ts";
import { didYouMean } from "./closest.ts";
import type { PrepareKit } from "./define.ts";
import type { filterSetting } from "./filter-settings.ts";

/** Which taxa a metric looks at. Every condition given must hold; a filter without conditions lets all pass. */
export type TaxonFilter = z.output<typeof filterSetting> & {
  /** Of an entry's own categories some may be unknown to the table, as long as one is known. */
  readonly someUnknown?: true | undefined;
};

/** A filter worked out for every taxon of a tree. */
export interface CompiledFilter {
  /** 1 for each taxon that passes. */
  readonly mask: Uint8Array;
  /** The conditions in words, empty for a filter that lets all pass. */
  readonly words: string;
  /** Attributes that the conditions read. */
  readonly attributes: readonly Attribute[];
  /** Why a taxon does not pass; undefined when it does. */
  whyNot(taxon: number): string | undefined;
}

interface Condition {
  readonly words: string;
  /** Attributes that it reads. */
  readonly attributes: readonly Attribute[];
  holds(taxon: number): boolean;
  whyNot(taxon: number): string;
}

/**
 * Works out filters for every taxon of the tree. A name that the tree or the attribute table does not have, and
 * a filter that no taxon passes, are reported to the kit: such a metric would be 0 in every sample.
 */
export function compileFilter(filters: readonly TaxonFilter[], kit: PrepareKit): CompiledFilter {
  const before = kit.problems.length;
  // The wish for second groups comes from the set and holds for the entry's own filter as well.
  const withSecondary = filters.some((filter) => filter.with_secondary === true);
  const conditions = filters.flatMap((filter) => conditionsOf(filter, withSecondary, kit));
  const mask = new Uint8Array(kit.tree.size).fill(1);
  for (const { holds } of conditions) {
    for (let taxon = 0; taxon < mask.length; taxon++) if (mask[taxon] === 1 && !holds(taxon)) mask[taxon] = 0;
  }
  const words = conditions.map((condition) => condition.words).join(", ");
  if (!mask.includes(1) && kit.problems.length === before)
    kit.problem(
      `no taxon of the whole tree passes the filter (${words}); check its names and the attribute table`,
    );
  return {
    mask,
    words,
    attributes: [...new Set(conditions.flatMap((condition) => condition.attributes))],
    whyNot: (taxon) => conditions.find((condition) => !condition.holds(taxon))?.whyNot(taxon),
  };
}

function conditionsOf(filter: TaxonFilter, withSecondary: boolean, kit: PrepareKit): Condition[] {
  const conditions: Condition[] = [];
  if (filter.within !== undefined) conditions.push(within(filter.within, kit));
  if (filter.except !== undefined) conditions.push(except(filter.except, kit));
  for (const attribute of CATEGORIES) {
    const wanted = filter[attribute];
    if (wanted !== undefined) conditions.push(category(attribute, wanted, filter, withSecondary, kit));
  }
  for (const { setting, words, holds } of LIMITS) {
    const limit = filter[setting];
    if (limit !== undefined) conditions.push(tolerance(limit, words, holds, kit));
  }
  for (const attribute of filter.has_value ?? []) conditions.push(hasValue(attribute, kit));
  if (filter.identified_to !== undefined) {
    const rank = filter.identified_to;
    const least = RANKS.indexOf(rank);
    conditions.push({
      words: `identified to ${rank} or finer`,
      attributes: [],
      holds: (taxon) => (kit.tree.ranks[taxon] as number) >= least,
      whyNot: (taxon) => `identified to ${kit.tree.rankOf(taxon)} only`,
    });
  }
  if (filter.any_of !== undefined) conditions.push(anyOf(filter.any_of, withSecondary, kit));
  return conditions;
}

function anyOf(filters: readonly TaxonFilter[], outer: boolean, kit: PrepareKit): Condition {
  const choices = filters.map((filter) => conditionsOf(filter, outer || filter.with_secondary === true, kit));
  const words = choices.map((choice) => choice.map((condition) => condition.words).join(" and "));
  // The first condition of a choice that fails; nothing when all hold.
  const failing = (choice: readonly Condition[], taxon: number) =>
    choice.filter((condition) => !condition.holds(taxon)).slice(0, 1);
  return {
    words: listOf(words),
    attributes: choices.flat().flatMap((condition) => condition.attributes),
    holds: (taxon) => choices.some((choice) => choice.every((condition) => condition.holds(taxon))),
    whyNot: (taxon) =>
      [...new Set(choices.flatMap((choice) => failing(choice, taxon).map((one) => one.whyNot(taxon))))].join(
        "; ",
      ),
  };
}

/** Every taxon below the named ones, themselves included. Parents have lower numbers, so one pass will do. */
function below(names: readonly string[], kit: PrepareKit): Uint8Array {
  const inside = new Uint8Array(kit.tree.size);
  for (const name of names) {
    const taxon = kit.taxon(name);
    if (taxon !== undefined) inside[taxon] = 1;
  }
  for (let taxon = 0; taxon < inside.length; taxon++) {
    const parent = kit.tree.parentOf(taxon);
    if (parent >= 0 && inside[parent] === 1) inside[taxon] = 1;
  }
  return inside;
}

function within(names: readonly string[], kit: PrepareKit): Condition {
  const inside = below(names, kit);
  return {
    words: `within ${listOf(names)}`,
    attributes: [],
    holds: (taxon) => inside[taxon] === 1,
    whyNot: () => `not within ${listOf(names)}`,
  };
}

function except(names: readonly string[], kit: PrepareKit): Condition {
  const inside = below(names, kit);
  return {
    words: `without ${listOf(names, "and")}`,
    attributes: [],
    holds: (taxon) => inside[taxon] !== 1,
    whyNot: () => `within ${listOf(names)}, which is left out`,
  };
}

const CATEGORIES = ["feeding_group", "habit", "life_cycle", "origin", "conservation"] as const;

function category(
  attribute: (typeof CATEGORIES)[number],
  wanted: readonly string[],
  filter: TaxonFilter,
  withSecondary: boolean,
  kit: PrepareKit,
): Condition {
  const first = kit.attribute(attribute);
  const second =
    withSecondary && (attribute === "feeding_group" || attribute === "habit")
      ? kit.attribute(`${attribute}_secondary`)
      : undefined;
  const known = [...new Set([...first.categories, ...(second?.categories ?? [])])];
  const enough = filter.someUnknown === true && wanted.some((text) => known.includes(text));
  if (first.categories.length > 0 && !enough) {
    for (const text of wanted) {
      if (!known.includes(text))
        kit.problem(`no taxon has the ${wordsOf(attribute)} "${text}"${didYouMean(text, known)}`);
    }
  }
  const label = `${wordsOf(attribute)} ${listOf(wanted)}`;
  const passes = (text: string | undefined): boolean => text !== undefined && wanted.includes(text);
  return {
    words: label,
    attributes: [attribute],
    holds: (taxon) =>
      passes(categoryOf(first, taxon)) || (second !== undefined && passes(categoryOf(second, taxon))),
    whyNot: (taxon) => {
      const text = categoryOf(first, taxon);
      return text === undefined
        ? `no ${wordsOf(attribute)} in ${first.scheme.scheme}`
        : `${wordsOf(attribute)} ${text}`;
    },
  };
}

const LIMITS = [
  { setting: "tolerance_at_most", words: "at most", holds: (order: number) => order <= 0 },
  { setting: "tolerance_below", words: "below", holds: (order: number) => order < 0 },
  { setting: "tolerance_at_least", words: "at least", holds: (order: number) => order >= 0 },
  { setting: "tolerance_above", words: "above", holds: (order: number) => order > 0 },
] as const;

function tolerance(
  limit: number,
  words: string,
  holds: (order: number) => boolean,
  kit: PrepareKit,
): Condition {
  const attribute = kit.attribute("tolerance");
  const at: Exact = exactOf(limit);
  return {
    words: `tolerance ${words} ${numberText(limit)}`,
    attributes: ["tolerance"],
    holds: (taxon) =>
      attribute.has[taxon] === 1 &&
      holds(compareExact(fraction(attribute.scaled[taxon] as number, attribute.scale), at)),
    whyNot: (taxon) => {
      const value = numberOf(attribute, taxon);
      return value === undefined
        ? `no tolerance value in ${attribute.scheme.scheme}`
        : `tolerance ${numberText(value)} is not ${words} ${numberText(limit)}`;
    },
  };
}

function hasValue(attribute: Attribute, kit: PrepareKit): Condition {
  const compiled = kit.attribute(attribute);
  return {
    words: `with a ${wordsOf(attribute)} value`,
    attributes: [attribute],
    holds: (taxon) => compiled.has[taxon] === 1,
    whyNot: () => `no ${wordsOf(attribute)} value in ${compiled.scheme.scheme}`,
  };
}

function wordsOf(attribute: Attribute): string {
  return attribute.replaceAll("_", " ");
}

/** "A", "A or B", "A, B or C". */
export function listOf(texts: readonly string[], last = "or"): string {
  if (texts.length < 2) return texts.join("");
  return `${texts.slice(0, -1).join(", ")} ${last} ${texts.at(-1)}`;
}
