import { FileError } from "../files/file-error.ts";
import type { Finding } from "../findings/finding.ts";
import { FINDING_REGISTER } from "../findings/register.ts";
import { at } from "../model/at.ts";
import type { InputNames } from "./input-names.ts";
import { RUN_FILES } from "./run-files.ts";
import type { RunFolder } from "./run-table.ts";
import { cellOf, readRunTable, wholeOf, wordOf } from "./run-table.ts";

const COLUMNS = ["file", "line", "column", "severity", "code", "sample_id", "message", "hint"] as const;

/** A finding with the run's names for the files it speaks of. */
export function inRunNames(finding: Finding, names: InputNames): Finding {
  return { ...finding, file: names.nameOf(finding.file), message: names.inText(finding.message) };
}

/** Reads reading-findings.csv. @throws FileError naming the line of a fault */
export async function readStoredFindings(folder: RunFolder): Promise<Finding[]> {
  const shown = `${folder.shownAs}/${RUN_FILES.readingFindings}`;
  return [...(await readRunTable(folder, RUN_FILES.readingFindings, COLUMNS))].map((row): Finding => {
    const word = at(row.cells, 4);
    const entry = FINDING_REGISTER.find((one) => one.code === word);
    if (entry === undefined)
      throw new FileError(shown, `line ${row.line}: no finding has the code "${word}"`);
    return {
      file: cellOf(row, 0),
      line: wholeOf(row, 1, shown),
      column: wholeOf(row, 2, shown),
      severity: wordOf(row, 3, ["error", "warning", "note"], shown),
      code: entry.code,
      sampleId: cellOf(row, 5),
      message: cellOf(row, 6),
      hint: cellOf(row, 7),
    };
  });
}
