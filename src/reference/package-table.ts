import { parse } from "csv-parse/sync";
import { FileError } from "../files/file-error.ts";

/** A row of a package table, with its line for messages. */
export interface PackageRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/**
 * Reads a table of the package: comma-separated UTF-8 with the given columns, in any order, and any others.
 *
 * These tables are read at every start, so lines without a quotation mark, nearly all of them, are split at
 * their commas, which is all that RFC 4180 asks for there; the others go through the CSV parser.
 *
 * @param file how messages name it
 * @returns one row for each record, its cells in the order of `columns`
 * @throws FileError naming the line when the table is not readable or a column is missing
 */
export function readPackageTable(file: string, text: string, columns: readonly string[]): PackageRow[] {
  const records = splitRecords(file, text.startsWith("\ufeff") ? text.slice(1) : text);
  const header = records[0]?.cells ?? [];
  const fields = columns.map((column) => {
    const field = header.indexOf(column);
    if (field < 0) throw new FileError(file, `line 1: the column "${column}" is missing`);
    return field;
  });
  return records.slice(1).map(({ line, cells }) => {
    if (cells.length !== header.length) {
      const counts = `${cells.length} fields where the header has ${header.length}`;
      throw new FileError(file, `line ${line}: ${counts}`);
    }
    return { line, cells: fields.map((field) => cells[field] ?? "") };
  });
}

function splitRecords(file: string, text: string): PackageRow[] {
  const lines = text.split(/\r\n|\n|\r/u);
  const hasRecordOverLines = lines.some(
    (line) => line.includes('"') && (line.split('"').length - 1) % 2 === 1,
  );
  if (hasRecordOverLines) return parseRecords(file, text, 1);
  const records: PackageRow[] = [];
  lines.forEach((content, i) => {
    if (content === "") return;
    if (content.includes('"')) records.push(...parseRecords(file, content, i + 1));
    else records.push({ line: i + 1, cells: content.split(",") });
  });
  return records;
}

function parseRecords(file: string, text: string, firstLine: number): PackageRow[] {
  try {
    const records = parse(text, {
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      record_delimiter: ["\r\n", "\n", "\r"],
    }) as unknown as { record: string[]; info: { lines: number } }[];
    return records.map(({ record, info }) => ({ line: firstLine + info.lines - 1, cells: record }));
  } catch (error) {
    if (!(error instanceof Error) || !("code" in error)) throw error;
    throw new FileError(file, `line ${firstLine}: not a CSV table (${error.message})`);
  }
}
