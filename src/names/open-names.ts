import { compareCodePoints } from "../model/order.ts";
import type { Resolution } from "./resolution.ts";

/** A name that a person has to decide, as a row of the lab's list (sheet_name, accepted_name, note). */
export interface OpenName {
  readonly sheetName: string;
  /** Empty: nothing is decided for the lab. */
  readonly acceptedName: string;
  /** What is known, for the one who decides. */
  readonly note: string;
}

/** A name of a batch, once for all its rows. */
export interface BatchName {
  readonly name: string;
  readonly resolution: Resolution;
  /** Rows that carry it. */
  readonly rows: number;
}

/**
 * The open cases of a batch, each once, in code point order: unknown names, and names found with a doubt.
 * Names found without one, through a synonym for instance, are not among them.
 */
export function openNames(names: Iterable<BatchName>): OpenName[] {
  const open: OpenName[] = [];
  for (const { name, resolution, rows } of names) {
    const question = questionOf(resolution);
    if (question === undefined) continue;
    const note = `${rows === 1 ? "1 row" : `${rows} rows`}; ${question}`;
    open.push({ sheetName: name, acceptedName: "", note });
  }
  return open.sort((a, b) => compareCodePoints(a.sheetName, b.sheetName));
}

function questionOf(resolution: Resolution): string | undefined {
  if (resolution.kind !== "unknown") return resolution.warning?.text;
  const { suggestions, within } = resolution;
  const close = suggestions.length === 0 ? "no close name" : `close names: ${suggestions.join(", ")}`;
  return within === undefined ? close : `${close}; ${within} is known`;
}
