import type { LabName, LabNames } from "../sheets/names-list.ts";
import { RUN_FILES } from "./run-files.ts";
import type { RunInput } from "./run-record.ts";
import type { RunFolder } from "./run-table.ts";
import { cellOf, readRunTable, runTableText, wholeOf } from "./run-table.ts";

const COLUMNS = ["sheet_name", "accepted_name", "note", "line"] as const;

/** The text of names.csv: the decisions of the lab in the order of its list. */
export function namesText(lab: LabNames): string {
  const entries = [...lab.entries].sort(([, a], [, b]) => a.line - b.line);
  return runTableText(
    COLUMNS,
    entries.map(([name, { accepted, note, line }]) => [name, accepted, note, String(line)]),
  );
}

/** Reads names.csv. @throws FileError naming the line of a fault */
export async function readNames(folder: RunFolder, input: RunInput): Promise<LabNames> {
  const shown = `${folder.shownAs}/${RUN_FILES.names}`;
  const entries = new Map<string, LabName>();
  for (const row of await readRunTable(folder, RUN_FILES.names, COLUMNS)) {
    entries.set(cellOf(row, 0), {
      accepted: cellOf(row, 1),
      note: cellOf(row, 2),
      line: wholeOf(row, 3, shown),
    });
  }
  const { file, sha256, bytes, rows } = input;
  return { entries, file, unreadable: false, digest: { file, sha256, bytes, rows } };
}
