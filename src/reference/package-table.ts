import { parse } from "csv-parse/sync";
import { FileError } from "../files/file-error.ts";
import { at } from "../model/at.ts";
import { entryOf } from "../model/entry-of.ts";

/** A table of the package. */
export interface PackageTable {
  readonly rows: readonly PackageRow[];
  /** The cell of a row in a column. */
  cell(row: PackageRow, column: string): string;
  /** The field of each column asked for, for tables whose rows are many. */
  readonly fields: readonly number[];
}

/** A record with its line, for messages. */
export interface PackageRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/**
 * Reads a table of the package: comma-separated UTF-8 with the given columns, in any order, and any others.
 *
 * These tables are read at every start and the CSV parser takes a noticeable while to get going, so a table in
 * which every record is a line of well-formed fields (RFC 4180), as all of the package are, is split right here.
 * Anything else, such as a field over several lines or a stray quotation mark, is the parser's to judge.
 *
 * @param file how messages name it
 * @throws FileError naming the line when the table is not readable or a column is missing
 */
export function readPackageTable(file: string, text: string, columns: readonly string[]): PackageTable {
  const { fields, rows } = packageRows(file, text, columns);
  const fieldOf = new Map(columns.map((column, i) => [column, at(fields, i)]));
  return { rows: [...rows], fields, cell: (row, column) => at(row.cells, entryOf(fieldOf, column)) };
}

/**
 * The same for a long table whose rows are wanted one after the other: each is read when its turn comes, and so are
 * faults found.
 *
 * @throws FileError as `readPackageTable` does; for what is wrong with a row when its turn comes
 */
export function packageRows(
  file: string,
  text: string,
  columns: readonly string[],
): { readonly fields: readonly number[]; readonly rows: Iterable<PackageRow> } {
  const records = recordsOf(file, text.startsWith("\ufeff") ? text.slice(1) : text);
  const header = records.next();
  const names = header.done === true ? [] : header.value.cells;
  const fields = columns.map((column) => {
    const field = names.indexOf(column);
    if (field < 0) throw new FileError(file, `line 1: the column "${column}" is missing`);
    return field;
  });
  return { fields, rows: asWideAs(names.length, records, file) };
}

function* asWideAs(width: number, rows: Iterable<PackageRow>, file: string): Generator<PackageRow> {
  for (const row of rows) {
    if (row.cells.length !== width)
      throw new FileError(file, `line ${row.line}: ${row.cells.length} fields where the header has ${width}`);
    yield row;
  }
}

/** A line of whole fields, some of them in quotation marks. */
const QUOTED_LINE = /^(?:"(?:[^"]|"")*"|[^",]*)(?:,(?:"(?:[^"]|"")*"|[^",]*))*$/u;
const QUOTED_FIELD = /"(?:[^"]|"")*"|[^",]+|(?<=^|,)(?=,|$)/gu;

function* recordsOf(file: string, text: string): Generator<PackageRow> {
  let number = 0;
  let records = 0;
  for (const line of linesOf(text)) {
    number++;
    if (line === "") continue;
    const cells = fieldsOfLine(line);
    if (cells === undefined) {
      // Up to here both see the same records.
      yield* parseRecords(file, text).slice(records);
      return;
    }
    records++;
    yield { line: number, cells };
  }
}

function* linesOf(text: string): Generator<string> {
  if (text.includes("\r")) {
    yield* text.split(/\r\n|\n|\r/u);
    return;
  }
  let start = 0;
  for (let end = text.indexOf("\n"); end >= 0; end = text.indexOf("\n", start)) {
    yield text.slice(start, end);
    start = end + 1;
  }
  yield text.slice(start);
}

/** The fields of a comma-separated line (RFC 4180); undefined when it is not made of whole fields. */
function fieldsOfLine(line: string): string[] | undefined {
  if (!line.includes('"')) return line.split(",");
  if (!QUOTED_LINE.test(line)) return undefined;
  return (line.match(QUOTED_FIELD) ?? []).map((field) =>
    field.startsWith('"') ? field.slice(1, -1).replaceAll('""', '"') : field,
  );
}

/**
 * The fields of one record, which may lie over several lines.
 *
 * @param fault makes the error of a record that is none, of what is wrong with it
 */
export function fieldsOfRecord(text: string, fault: (problem: string) => Error): string[] {
  const fields = fieldsOfLine(text);
  if (fields !== undefined) return fields;
  try {
    const records: string[][] = parse(text, { relax_column_count: true, record_delimiter: "\n" });
    return records[0] ?? [];
  } catch (error) {
    if (!(error instanceof Error) || !("code" in error)) throw error;
    throw fault(error.message);
  }
}

function parseRecords(file: string, text: string): PackageRow[] {
  try {
    const records = parse(text, {
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      record_delimiter: ["\r\n", "\n", "\r"],
    }) as unknown as { record: string[]; info: { lines: number } }[];
    return records.map(({ record, info }) => ({ line: info.lines, cells: record }));
  } catch (error) {
    if (!(error instanceof Error) || !("code" in error)) throw error;
    throw new FileError(file, `not a CSV table: ${error.message}`);
  }
}
