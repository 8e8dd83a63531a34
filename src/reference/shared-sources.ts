import type { SharedFiles } from "./shared-files.ts";

/** A document that values, names or methods come from. */
export interface Source {
  readonly id: string;
  readonly citation: string;
  readonly year: string;
  readonly url: string;
  readonly licence: string;
  /** What was read of it, in words. */
  readonly howSeen: string;
}

export const SOURCES_FILE = "sources.csv";
/** Columns of a table of sources, the shared one or a set's own. */
export const SOURCE_COLUMNS = [
  "source_id",
  "citation",
  "year",
  "url",
  "licence_or_status",
  "how_seen",
] as const;

/** The documents by id, in the order of their table. */
export function readSources(files: SharedFiles): Map<string, Source> {
  const { rows, cell } = files.table(SOURCES_FILE, SOURCE_COLUMNS);
  return new Map(
    rows.map((row) => {
      const id = cell(row, "source_id");
      const source = {
        id,
        citation: cell(row, "citation"),
        year: cell(row, "year"),
        url: cell(row, "url"),
        licence: cell(row, "licence_or_status"),
        howSeen: cell(row, "how_seen"),
      };
      return [id, source];
    }),
  );
}
