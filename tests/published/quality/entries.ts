import { readFileSync } from "node:fs";

/** One published number or formula with its source; see README.md beside this file. */
export interface Entry {
  readonly id: string;
  readonly verified: "seen" | "memory";
  readonly source: { readonly citation: string };
  readonly input: Readonly<Record<string, unknown>>;
  readonly expected: Readonly<Record<string, unknown>>;
  readonly tolerance: number;
}

const ENTRIES: readonly Entry[] = JSON.parse(
  readFileSync(new URL("examples.json", import.meta.url), "utf8"),
) as Entry[];

/** Entries whose id starts with a prefix. @throws Error when there is none, so that no test runs on nothing */
export function entries(prefix: string): readonly Entry[] {
  const found = ENTRIES.filter(({ id }) => id.startsWith(prefix));
  if (found.length === 0) throw new Error(`no entry ${prefix}`);
  return found;
}

export function entry(id: string): Entry {
  const [found] = entries(id);
  if (found === undefined) throw new Error(`no entry ${id}`);
  return found;
}

/** A number of an entry. */
export function number(from: Readonly<Record<string, unknown>>, key: string): number {
  const value = from[key];
  if (typeof value !== "number") throw new Error(`${key} is no number`);
  return value;
}

/** A list of numbers of an entry. */
export function numbers(from: Readonly<Record<string, unknown>>, key: string): number[] {
  const value = from[key];
  if (!Array.isArray(value) || value.some((one) => typeof one !== "number"))
    throw new Error(`${key} is no list`);
  return value as number[];
}

/** A part of an entry that holds numbers itself. */
export function part(
  from: Readonly<Record<string, unknown>>,
  key: string,
): Readonly<Record<string, unknown>> {
  const value = from[key];
  if (typeof value !== "object" || value === null) throw new Error(`${key} holds nothing`);
  return value as Record<string, unknown>;
}
