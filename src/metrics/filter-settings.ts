import * as z from "zod";
import { ATTRIBUTES } from "../model/attributes.ts";
import { RANKS } from "../model/taxon-tree.ts";

/** What the reference page and the listing say of a setting beside its summary. */
export interface SettingMeta {
  readonly description: string;
  /** What it takes, in words. */
  readonly takes: string;
}

/** Attaches what users read about a setting. */
export function told<T extends z.ZodType>(schema: T, takes: string, description: string): T {
  return schema.meta({ description, takes });
}

const name = z.string({ error: "must be a text" }).trim().min(1, { error: "must not be empty" });

/** One name or a list of them. */
export const names = z
  .union([name, z.array(name).min(1)], { error: "must be a name or a list of names" })
  .transform((value) => (typeof value === "string" ? [value] : value));

/** A number of the scale of an attribute. */
export const limitNumber = z.number({ error: "must be a number" });

export const rank = z.enum(RANKS, { error: `must be one of ${RANKS.join(", ")}` });

const attribute = z.enum(ATTRIBUTES, { error: `must be one of ${ATTRIBUTES.join(", ")}` });

/** The conditions that a set may lay on taxa. All that are given must hold. */
const conditionShape = {
  within: told(names.optional(), "taxa", "only these taxa and what lies below them"),
  except: told(names.optional(), "taxa", "without these taxa and what lies below them"),
  feeding_group: told(names.optional(), "feeding groups", "only taxa of these functional feeding groups"),
  habit: told(names.optional(), "habits", "only taxa of these habits"),
  life_cycle: told(names.optional(), "life cycles", "only taxa of these life cycles"),
  origin: told(names.optional(), "origins", "only taxa of these origins"),
  conservation: told(names.optional(), "groups", "only taxa of these conservation groups"),
  with_secondary: told(
    z.boolean({ error: "must be true or false" }).optional(),
    "true or false",
    "a second feeding group or habit, where the table gives two, counts as well",
  ),
  tolerance_at_most: told(
    limitNumber.optional(),
    "number",
    "only taxa with a value up to this, itself included",
  ),
  tolerance_below: told(limitNumber.optional(), "number", "only taxa with a value below this"),
  tolerance_at_least: told(
    limitNumber.optional(),
    "number",
    "only taxa with a value from this upwards, itself included",
  ),
  tolerance_above: told(limitNumber.optional(), "number", "only taxa with a value above this"),
  has_value: told(
    z
      .union([attribute, z.array(attribute).min(1)])
      .transform((value) => (typeof value === "string" ? [value] : value))
      .optional(),
    "attributes",
    "only taxa with a value of these attributes",
  ),
  identified_to: told(rank.optional(), "rank", "only taxa identified to this rank or finer"),
} satisfies z.ZodRawShape;

/** The settings by which a set chooses the taxa that a metric looks at. All that are given must hold. */
export const filterShape = {
  ...conditionShape,
  any_of: told(
    z.array(z.strictObject(conditionShape), { error: "must be a list of filters" }).min(1).optional(),
    "a list of filters",
    "only taxa that pass at least one of these",
  ),
} satisfies z.ZodRawShape;

/** A filter as a setting of its own, for instance of what stands below the line of a ratio. */
export const filterSetting = z.strictObject(filterShape);

/** Richness, dominance and diversity may be worked out on groups instead of taxa as they were identified. */
export const groupedAt = told(
  rank.optional(),
  "rank",
  "taxa are first put together at this rank; what was identified less far stands for itself",
);
