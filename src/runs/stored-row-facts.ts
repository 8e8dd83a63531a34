import { FileError } from "../files/file-error.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { NumberedFacts, RareFacts } from "../model/rows.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import type { PackageRow } from "../reference/package-table.ts";
import { cellOf, wholeOf, wordOf } from "./run-table.ts";
import { STORED_ROW_AT as AT, NUMBER_FACTS, TEXT_FACTS } from "./stored-row-columns.ts";

/** What a row of rows.csv says from its stage to its file. */
export interface RowFacts extends NumberedFacts {
  /** Its number in the table. */
  readonly file: number;
}

/**
 * Reads from the cells of a row what it says beside its sample, name, count and place; `column` is left 0.
 *
 * @param fileNumbers the number in the table of each file of the run
 * @param shown how messages name rows.csv
 * @throws FileError naming the line when a cell holds what no run writes
 */
export function storedFacts(
  row: PackageRow,
  fileNumbers: ReadonlyMap<string, number>,
  shown: string,
): RowFacts {
  const file = fileNumbers.get(cellOf(row, AT.file));
  if (file === undefined)
    throw new FileError(shown, `line ${row.line}: the file is none of the inputs in run.json`);
  const stage = row.cells[AT.stage] === "" ? "unknown" : wordOf(row, AT.stage, LIFE_STAGES, shown);
  const flag = (at: number, word: string, bit: number) =>
    wordOf(row, at, ["", word], shown) === "" ? 0 : bit;
  const distinct = wordOf(row, AT.distinct, ["", "yes", "no"], shown);
  const flags =
    flag(AT.part, "large-rare", ROW_FLAGS.largeRare) |
    flag(AT.disposition, "released", ROW_FLAGS.released) |
    flag(AT.basis, "expanded", ROW_FLAGS.expanded) |
    (distinct === "yes" ? ROW_FLAGS.distinctYes : distinct === "no" ? ROW_FLAGS.distinctNo : 0);
  return { file, stage: LIFE_STAGES.indexOf(stage), flags, rare: rareFacts(row, shown), column: 0 };
}

function rareFacts(row: PackageRow, shown: string): RareFacts | undefined {
  const facts: { -readonly [Key in keyof RareFacts]: RareFacts[Key] } = {};
  let isAny = false;
  NUMBER_FACTS.forEach(([, key], index) => {
    const at = AT.firstNumber + index;
    if (row.cells[at] === "") return;
    facts[key] = wholeOf(row, at, shown);
    isAny = true;
  });
  TEXT_FACTS.forEach(([, key], index) => {
    const text = cellOf(row, AT.firstText + index);
    if (text === "") return;
    facts[key] = text;
    isAny = true;
  });
  return isAny ? facts : undefined;
}
