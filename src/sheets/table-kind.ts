import { LOG_COLUMNS } from "../model/sample-facts.ts";

/** The kinds of tables that people write, as messages call them. */
export type TableKind =
  | "bench sheet"
  | "sample log"
  | "list of names"
  | "table of scores"
  | "table of metric values"
  | "pick log"
  | "sheet of sorting checks"
  | "list of amendments"
  | "list of taxa to watch for"
  | "table of site conditions";

interface KindRule {
  readonly kind: TableKind;
  /** Columns that together only this kind has. */
  readonly columns: readonly string[];
}

/** The first that fits holds, so the narrower kinds stand before the wider ones. */
const RULES: readonly KindRule[] = [
  { kind: "table of scores", columns: ["sample_id", "reference_set"] },
  { kind: "table of metric values", columns: ["sample_id", "metric", "value"] },
  { kind: "list of names", columns: ["sheet_name", "accepted_name"] },
  { kind: "sheet of sorting checks", columns: ["sorted_count", "recovered_count"] },
  { kind: "list of amendments", columns: ["sample_id", "old_count", "new_count"] },
  { kind: "pick log", columns: ["sample_id", "grid", "picked"] },
  { kind: "bench sheet", columns: ["sample_id", "taxon", "count"] },
  { kind: "list of taxa to watch for", columns: ["taxon", "kind"] },
  { kind: "table of site conditions", columns: ["condition"] },
];

/** What to do with a table that was given in the place of another. */
const WHERE_IT_BELONGS: Readonly<Record<TableKind, string>> = {
  "bench sheet": "bench sheets stand behind the name of the command, without an option before them",
  "sample log": "give it with --samples",
  "list of names": "give it with --names",
  "table of scores": "give the bench sheets that were scored; jartally qc duplicates reads scores",
  "table of metric values": "jartally score --from metrics reads it",
  "pick log": "jartally grids status reads it",
  "sheet of sorting checks": "jartally qc sorting reads it",
  "list of amendments": "give it to jartally rescore with --amend",
  "list of taxa to watch for": "give it to jartally check with --alerts",
  "table of site conditions": "this command does not use it",
};

/** Columns of a log that no other table has; one is enough. */
const OF_LOGS: ReadonlySet<string> = new Set(
  LOG_COLUMNS.filter(
    (name) => !["sample_id", "note", "sorter", "target", "stratum", "tray", "replicate"].includes(name),
  ),
);

/** What a table was recognised as. */
export interface SeenKind {
  readonly kind: TableKind;
  /** The columns that say so. */
  readonly by: readonly string[];
  readonly hint: string;
}

/**
 * Recognises a table by its columns; undefined when it could be anything. It is asked only of a table that is not
 * what it should be, so a table with a column of another kind too is never taken away from its own.
 *
 * @param keys the names of the columns, as `columnKey` gives them
 */
export function seenKind(keys: readonly string[]): SeenKind | undefined {
  const rule = RULES.find(({ columns }) => columns.every((column) => keys.includes(column)));
  if (rule !== undefined) return { kind: rule.kind, by: rule.columns, hint: WHERE_IT_BELONGS[rule.kind] };
  const ofLogs = keys.filter((key) => OF_LOGS.has(key));
  if (!keys.includes("sample_id") || ofLogs.length === 0 || keys.includes("count")) return undefined;
  return { kind: "sample log", by: ofLogs.slice(0, 3), hint: WHERE_IT_BELONGS["sample log"] };
}

/**
 * A cross-tab of counts in the place of a log, which never has a column of taxa: the samples of a cross-tab are
 * its headers, so beside `taxon` nothing in it is known. In the place of other tables it could be one of those
 * with a wrong header.
 */
export function crossTabKind(keys: readonly string[], wanted: TableKind | undefined): SeenKind | undefined {
  const isCrossTab = keys.length > 1 && keys.includes("taxon") && !keys.includes("sample_id");
  if (wanted !== "sample log" || !isCrossTab || keys.some((key) => OF_LOGS.has(key))) return undefined;
  return { kind: "bench sheet", by: ["taxon"], hint: WHERE_IT_BELONGS["bench sheet"] };
}

/**
 * The other kind that a table surely is though it has the columns of the one wanted: a log needs only the sample
 * ids, which a bench sheet has as well.
 */
export function otherKind(keys: readonly string[], wanted: TableKind | undefined): SeenKind | undefined {
  if (wanted !== "sample log" || keys.some((key) => OF_LOGS.has(key))) return undefined;
  const seen = seenKind(keys);
  return seen?.kind === "bench sheet" || seen?.kind === "pick log" ? seen : undefined;
}
