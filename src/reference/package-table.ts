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
  const records = new PackageRecords(file, text.startsWith("\ufeff") ? text.slice(1) : text);
  const names = records.next()?.cells ?? [];
  const fields = columns.map((column) => {
    const field = names.indexOf(column);
    if (field < 0) throw new FileError(file, `line 1: the column "${column}" is missing`);
    return field;
  });
  return { fields, rows: asWideAs(names.length, records, file) };
}

function* asWideAs(width: number, records: PackageRecords, file: string): Generator<PackageRow> {
  for (let row = records.next(); row !== undefined; row = records.next()) {
    if (row.cells.length !== width)
      throw new FileError(file, `line ${row.line}: ${row.cells.length} fields where the header has ${width}`);
    yield row;
  }
}

/** A line of whole fields, some of them in quotation marks. */
const QUOTED_LINE = /^(?:"(?:[^"]|"")*"|[^",]*)(?:,(?:"(?:[^"]|"")*"|[^",]*))*$/u;
const QUOTED_FIELD = /"(?:[^"]|"")*"|[^",]+|(?<=^|,)(?=,|$)/gu;

/** The records of a table one after the other, blank lines left out. */
class PackageRecords {
  readonly #file: string;
  readonly #text: string;
  /** The same with a line feed at the end of every line. */
  readonly #lines: string;
  /** Where the next line begins. */
  #start = 0;
  #line = 0;
  #records = 0;
  /** What is left of a table that is the parser's to judge. */
  #parsed: Iterator<PackageRow, undefined> | undefined;

  constructor(file: string, text: string) {
    this.#file = file;
    this.#text = text;
    this.#lines = text.includes("\r") ? text.replace(/\r\n?/gu, "\n") : text;
  }

  /** The next record; undefined when there is none. @throws FileError for what is no table */
  next(): PackageRow | undefined {
    if (this.#parsed !== undefined) return this.#parsed.next().value;
    const lines = this.#lines;
    let start = this.#start;
    for (; lines[start] === "\n"; start++) this.#line++;
    if (start >= lines.length) return undefined;
    const feed = lines.indexOf("\n", start);
    const end = feed < 0 ? lines.length : feed;
    this.#start = end + 1;
    this.#line++;
    const cells = fieldsOfLine(lines.slice(start, end));
    if (cells === undefined) {
      // Up to here both see the same records.
      this.#parsed = parseRecords(this.#file, this.#text).slice(this.#records)[Symbol.iterator]();
      return this.next();
    }
    this.#records++;
    return { line: this.#line, cells };
  }
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
