import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { FindingCode } from "../findings/register.ts";
import { entryOf } from "../model/entry-of.ts";
import { LOG_COLUMNS, type LogColumn, type SampleFacts } from "../model/sample-facts.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { columnKey } from "./column-key.ts";
import type { MatchedColumns } from "./columns.ts";
import type { CellFault } from "./count.ts";
import { LogRows } from "./log-rows.ts";
import { LogSamples } from "./log-samples.ts";
import { logValueFault } from "./log-values.ts";
import { PlainLog } from "./plain-log.ts";
import { readRecords, type SheetRecord } from "./records.ts";

/** What the sample log says. */
export interface SampleLog {
  readonly samples: ReadonlyMap<string, SampleFacts>;
  /** Sample ids in the order of the log. */
  readonly order: readonly string[];
  /** Samples that may not be scored because of an error in their row, with the codes. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  /** True when a fault could hide or mix up any row. */
  readonly unreadable: boolean;
  /** How findings name the file. */
  readonly file: string;
  readonly digest: ReadFile;
}

/**
 * Reads a sample log: one row a sample. Columns with other names than the known ones are kept as covariates,
 * their names in lower case with underscores. Values of known columns are checked for their form; a value that
 * decides about scores (date of collection, area, tray, sorted part, target, containers) refuses its sample when
 * it cannot be read, any other is a warning.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readSampleLog(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<SampleLog> {
  const samples = new LogSamples();
  let layout: LogLayout | undefined;
  const read = await readRecords(
    input,
    options,
    {
      kind: "sample log",
      known: LOG_COLUMNS,
      required: ["sample_id"],
      extra: "data",
      doubtsNearNames: true,
      key: "sample_id",
    },
    findings,
    (record, columns, place) => {
      layout ??= layoutOf(columns, place);
      const facts = factsOf(record, layout);
      if (!samples.add(facts)) reportTwin(record, entryOf(samples, record.key), facts);
    },
    (columns, table, nameless) => {
      layout = layoutOf(columns, table.place);
      return new PlainLog(layout, table.header.length, nameless, samples);
    },
  );
  return {
    samples,
    order: samples.order,
    refused: read.spoilt,
    unreadable: read.unreadable,
    file: read.place,
    digest: read.digest,
  };
}

/** Texts of a column that were found in order are not checked again; so many are remembered. */
const MOST_CHECKED = 1 << 10;

/** A column of a log. */
export interface LogField {
  /** As the header writes it. */
  readonly text: string;
  /** Its place among the texts of a row. */
  readonly at: number;
  /** 0-based number of its cell; of two columns of one name the last. */
  readonly cell: number;
  /** What is wrong with a text of it; nothing for columns that the program does not know. */
  faultOf(text: string): CellFault | undefined;
}

/** What all rows of a log have in common, worked out once. */
export interface LogLayout {
  readonly rows: LogRows;
  /** 0-based number of the cell of the sample id. */
  readonly key: number;
  /** Known columns in their own order, then the others in that of the header. */
  readonly read: readonly LogField[];
}

function layoutOf(matched: MatchedColumns, file: string): LogLayout {
  const fields = new Map<string, number>();
  for (const [column, at] of matched.at) fields.set(column, at + 1);
  const extra = matched.extra.map(({ text, column }) => {
    const key = columnKey(text);
    fields.set(key, column);
    return { text, key, known: undefined };
  });
  const known = LOG_COLUMNS.filter(
    (column) => matched.at.has(column) || extra.some(({ text }) => text === column),
  ).map((column) => ({ text: column, key: column, known: column }));
  const all = [...known, ...extra];
  const rows = new LogRows({ names: [...new Set(all.map(({ key }) => key))], fields, file });
  const cellOf = (key: string) => entryOf(fields, key) - 1;
  const read = all.map(({ text, key, known: column }) => ({
    text,
    at: rows.at(key) as number,
    cell: cellOf(key),
    faultOf: column === undefined ? () => undefined : checkOnce(column),
  }));
  return { rows, key: cellOf("sample_id"), read };
}

/** What is wrong with a text of a column; one that was found in order is not checked again. */
function checkOnce(column: LogColumn): LogField["faultOf"] {
  const checked = new Set<string>();
  return (text) => {
    if (checked.has(text)) return undefined;
    const fault = logValueFault(column, text);
    if (fault === undefined && checked.size < MOST_CHECKED) checked.add(text);
    return fault;
  };
}

function factsOf(record: SheetRecord, { rows, read }: LogLayout): SampleFacts {
  const texts = rows.names.map(() => "");
  for (const { text: column, at, faultOf } of read) {
    const text = record.text(column);
    if (text === "") continue;
    texts[at] = text;
    const fault = faultOf(text);
    if (fault !== undefined) record.fault(column, fault);
  }
  return rows.add(record.key, texts, record.line);
}

/** The same sample in two rows: a slip when they agree, an error when they do not. */
function reportTwin(record: SheetRecord, earlier: SampleFacts, facts: SampleFacts): void {
  const columns = new Set([...earlier.texts.keys(), ...facts.texts.keys()]);
  for (const column of columns) {
    const before = earlier.texts.get(column);
    const now = facts.texts.get(column);
    if (before === now) continue;
    record.fault(column, {
      code: "conflicting-log-rows",
      message: `sample ${quoted(record.key)} has ${column} ${shown(now)} here and ${shown(before)} in line ${earlier.line}`,
    });
    return;
  }
  record.fault("sample_id", {
    code: "repeated-log-row",
    message: `sample ${quoted(record.key)} has the same row in line ${earlier.line}`,
  });
}

function shown(text: string | undefined): string {
  return text === undefined ? "nothing" : quoted(text);
}
