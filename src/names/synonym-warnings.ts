import type { NameWarning } from "./resolution.ts";
import type { SynonymRow } from "./synonyms.ts";

/**
 * The warning that an ambiguous or in-part row of the synonym table gives.
 *
 * @param name the name as it is to be shown
 * @param takenAs the taxon it was sent to; undefined when the name is a taxon itself
 */
export function rowWarning(
  name: string,
  row: SynonymRow | undefined,
  takenAs: string | undefined,
): NameWarning | undefined {
  if (row === undefined || (row.kind !== "ambiguous" && row.kind !== "in-part")) return undefined;
  const reason = plainReason(row);
  const outcome = takenAs === undefined ? `taken as the taxon ${row.name} itself` : `taken as ${takenAs}`;
  const word = row.kind === "ambiguous" ? "ambiguous" : "only in part one taxon";
  return { kind: row.kind, text: `"${name}" is ${word} (${reason}): ${outcome}` };
}

/** The reason of a row without the kind in front of it. */
export function plainReason(row: SynonymRow): string {
  const prefix = `${row.kind}: `;
  return row.reason.startsWith(prefix) ? row.reason.slice(prefix.length) : row.reason;
}
