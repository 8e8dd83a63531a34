import * as z from "zod";
import { filterShape } from "./filter-settings.ts";

/** A setting as users read about it. */
export interface SettingText {
  readonly name: string;
  /** What it takes, in words. */
  readonly takes: string;
  readonly description: string;
  readonly required: boolean;
  /** The value when a set does not give it, as it would be written; undefined when there is none. */
  readonly byDefault: string | undefined;
}

/**
 * The settings of a metric in the order in which they are declared.
 *
 * @param schema `settings` of an entry of the catalogue
 * @param filters whether to list the settings that choose taxa, which most metrics share
 */
export function listSettings(schema: z.ZodObject, filters: boolean): SettingText[] {
  return Object.entries(schema.shape)
    .filter(([name]) => filters || !Object.hasOwn(filterShape, name))
    .map(([name, setting]) => settingText(name, setting));
}

/** The settings that choose the taxa a metric looks at. */
export function listFilterSettings(): SettingText[] {
  return Object.entries(filterShape).map(([name, schema]) => settingText(name, schema));
}

/** Whether a metric has the settings that choose taxa. */
export function takesFilters(schema: z.ZodObject): boolean {
  return Object.keys(filterShape).every((name) => Object.hasOwn(schema.shape, name));
}

function settingText(name: string, schema: z.core.$ZodType): SettingText {
  const meta = z.globalRegistry.get(schema);
  const empty = z.safeParse(schema, undefined);
  const byDefault = empty.success ? empty.data : undefined;
  return {
    name,
    takes: String(meta?.takes ?? ""),
    description: meta?.description ?? "",
    required: !empty.success,
    byDefault: byDefault === undefined ? undefined : JSON.stringify(byDefault),
  };
}
