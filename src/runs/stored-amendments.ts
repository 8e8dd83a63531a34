import type { Amendment } from "../sheets/amendment.ts";
import { RUN_FILES } from "./run-files.ts";
import type { RunFolder } from "./run-table.ts";
import { cellOf, readRunTable, runTableText, wholeOf } from "./run-table.ts";

const COLUMNS = [
  "sample_id",
  "taxon",
  "old_count",
  "new_count",
  "reason",
  "by",
  "on",
  "file",
  "line",
  "field",
] as const;

/** The text of amendments.csv, in the order in which they are made. */
export function amendmentsText(amendments: readonly Amendment[]): string {
  return runTableText(
    COLUMNS,
    amendments.map(({ sampleId, taxon, oldCount, newCount, reason, by, on, place }) => [
      sampleId,
      taxon,
      String(oldCount),
      String(newCount),
      reason,
      by,
      on,
      place.file,
      String(place.line),
      String(place.column),
    ]),
  );
}

/** Reads amendments.csv. @throws FileError naming the line of a fault */
export async function readStoredAmendments(folder: RunFolder): Promise<Amendment[]> {
  const shown = `${folder.shownAs}/${RUN_FILES.amendments}`;
  return [...(await readRunTable(folder, RUN_FILES.amendments, COLUMNS))].map((row) => ({
    sampleId: cellOf(row, 0),
    taxon: cellOf(row, 1),
    oldCount: wholeOf(row, 2, shown),
    newCount: wholeOf(row, 3, shown),
    reason: cellOf(row, 4),
    by: cellOf(row, 5),
    on: cellOf(row, 6),
    place: { file: cellOf(row, 7), line: wholeOf(row, 8, shown), column: wholeOf(row, 9, shown) },
  }));
}
