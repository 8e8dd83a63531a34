import { FileError } from "../files/file-error.ts";
import type { TextSink } from "../files/formats/define.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import { compareCodePoints } from "../model/order.ts";
import type { RareFacts } from "../model/rows.ts";
import { LARGEST_COUNT, ROW_FLAGS, RowTable } from "../model/rows.ts";
import { RUN_FILES } from "./run-files.ts";
import type { RunFolder } from "./run-table.ts";
import { cellOf, readRunTable, runTableText, wholeOf, wordOf } from "./run-table.ts";

/** Rows that are turned into text at once. */
const ROWS_AT_ONCE = 4096;

/** Columns of text that few sheets have, and the fact each holds. */
const TEXT_FACTS = [
  ["grid", "grid"],
  ["container", "container"],
  ["tray_level", "trayLevel"],
  ["mount_fraction", "mountFraction"],
  ["condition", "condition"],
  ["reason", "reason"],
  ["identified_by", "identifiedBy"],
  ["identified_on", "identifiedOn"],
  ["slide_or_vial", "slideOrVial"],
  ["note", "note"],
] as const;
const NUMBER_FACTS = [
  ["number_of_taxa", "numberOfTaxa"],
  ["certainty", "certainty"],
] as const;

/** Columns of rows.csv: those of a long bench sheet, and the place each row came from. */
export const STORED_ROW_COLUMNS = [
  "sample_id",
  "taxon",
  "count",
  "life_stage",
  "part",
  "distinct",
  "disposition",
  "count_basis",
  ...NUMBER_FACTS.map(([column]) => column),
  ...TEXT_FACTS.map(([column]) => column),
  "file",
  "line",
  "field",
] as const;

const AT = { sample: 0, taxon: 1, count: 2, stage: 3, part: 4, distinct: 5, disposition: 6, basis: 7 };
const FIRST_NUMBER = 8;
const FIRST_TEXT = FIRST_NUMBER + NUMBER_FACTS.length;
const FILE = FIRST_TEXT + TEXT_FACTS.length;

/**
 * Writes the rows of a batch, sorted by sample id (code point), then file, line and field, so that the same rows
 * give the same bytes in whatever order they came.
 *
 * @param names of the files in the run, by the number of the file in the table
 */
export async function writeRows(sink: TextSink, table: RowTable, names: readonly string[]): Promise<void> {
  await sink.write(runTableText(STORED_ROW_COLUMNS, []));
  let pending: string[][] = [];
  const flush = async () => {
    const [first, ...rest] = pending;
    if (first !== undefined) await sink.write(runTableText(first, rest));
    pending = [];
  };
  for (const row of sortedRows(table)) {
    pending.push(cellsOf(table, row, names));
    if (pending.length >= ROWS_AT_ONCE) await flush();
  }
  await flush();
}

function* sortedRows(table: RowTable): Generator<number> {
  const { order, starts } = table.bySample();
  const samples = [...table.samples.texts.keys()].sort((a, b) =>
    compareCodePoints(table.samples.textOf(a), table.samples.textOf(b)),
  );
  for (const sample of samples) {
    const rows = order.slice(starts[sample] ?? 0, starts[sample + 1] ?? 0);
    yield* rows.sort(
      (a, b) =>
        table.fileNumberAt(a) - table.fileNumberAt(b) ||
        table.lineAt(a) - table.lineAt(b) ||
        table.columnAt(a) - table.columnAt(b),
    );
  }
}

function cellsOf(table: RowTable, row: number, names: readonly string[]): string[] {
  const flags = table.flagsAt(row);
  const stage = table.stageAt(row);
  const rare = table.rareAt(row);
  const has = (flag: number, word: string) => ((flags & flag) === 0 ? "" : word);
  return [
    table.samples.textOf(table.sampleAt(row)),
    table.names.textOf(table.nameAt(row)),
    String(table.countAt(row)),
    stage === "unknown" ? "" : stage,
    has(ROW_FLAGS.largeRare, "large-rare"),
    has(ROW_FLAGS.distinctYes, "yes") || has(ROW_FLAGS.distinctNo, "no"),
    has(ROW_FLAGS.released, "released"),
    has(ROW_FLAGS.expanded, "expanded"),
    ...NUMBER_FACTS.map(([, key]) => String(rare?.[key] ?? "")),
    ...TEXT_FACTS.map(([, key]) => rare?.[key] ?? ""),
    names[table.fileNumberAt(row)] ?? "",
    String(table.lineAt(row)),
    String(table.columnAt(row)),
  ];
}

/** A bench sheet of a run: its name and the field in which it had its names. */
export interface StoredSheet {
  readonly file: string;
  readonly nameField: number;
}

/**
 * Reads rows.csv back. Samples are numbered in code point order, those without a row included.
 *
 * @throws FileError naming the line of a fault
 */
export async function readRows(
  folder: RunFolder,
  sheets: readonly StoredSheet[],
  sampleIds: readonly string[],
): Promise<RowTable> {
  const shown = `${folder.shownAs}/${RUN_FILES.rows}`;
  const table = new RowTable();
  const numberOf = new Map<string, number>();
  for (const { file, nameField } of sheets) {
    numberOf.set(file, numberOf.size);
    table.startFile(file);
    table.setNameColumn(nameField);
  }
  for (const id of sampleIds) table.samples.add(id);
  for (const row of await readRunTable(folder, RUN_FILES.rows, STORED_ROW_COLUMNS)) {
    const file = numberOf.get(cellOf(row, FILE));
    if (file === undefined)
      throw new FileError(shown, `line ${row.line}: the file is none of the inputs in run.json`);
    const sampleId = cellOf(row, AT.sample);
    if (table.samples.numberOf(sampleId) === undefined)
      throw new FileError(shown, `line ${row.line}: the sample is not in ${RUN_FILES.samples}`);
    const count = wholeOf(row, AT.count, shown);
    if (count > LARGEST_COUNT) throw new FileError(shown, `line ${row.line}: the count is too large`);
    table.continueFile(file);
    table.add({
      sampleId,
      name: cellOf(row, AT.taxon),
      count,
      stage: row.cells[AT.stage] === "" ? "unknown" : wordOf(row, AT.stage, LIFE_STAGES, shown),
      flags: flagsOf(row, shown),
      line: wholeOf(row, FILE + 1, shown),
      column: wholeOf(row, FILE + 2, shown),
      rare: rareOf(row, shown),
    });
  }
  return table;
}

type Row = Awaited<ReturnType<typeof readRunTable>>[number];

function flagsOf(row: Row, shown: string): number {
  const flag = (at: number, word: string, bit: number) =>
    wordOf(row, at, ["", word], shown) === "" ? 0 : bit;
  const distinct = wordOf(row, AT.distinct, ["", "yes", "no"], shown);
  return (
    flag(AT.part, "large-rare", ROW_FLAGS.largeRare) |
    flag(AT.disposition, "released", ROW_FLAGS.released) |
    flag(AT.basis, "expanded", ROW_FLAGS.expanded) |
    (distinct === "yes" ? ROW_FLAGS.distinctYes : distinct === "no" ? ROW_FLAGS.distinctNo : 0)
  );
}

function rareOf(row: Row, shown: string): RareFacts | undefined {
  const facts: { -readonly [Key in keyof RareFacts]: RareFacts[Key] } = {};
  let isAny = false;
  NUMBER_FACTS.forEach(([, key], index) => {
    if (row.cells[FIRST_NUMBER + index] === "") return;
    facts[key] = wholeOf(row, FIRST_NUMBER + index, shown);
    isAny = true;
  });
  TEXT_FACTS.forEach(([, key], index) => {
    const text = cellOf(row, FIRST_TEXT + index);
    if (text === "") return;
    facts[key] = text;
    isAny = true;
  });
  return isAny ? facts : undefined;
}
