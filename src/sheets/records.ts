import type { InputFile } from "../files/input.ts";
import { openTable } from "../files/table.ts";
import type { LineTaker, TableReading } from "../files/table-reading.ts";
import { lineOf } from "../files/text/records.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { cleanCell, isUnusable, ownText } from "./cell-text.ts";
import { type ColumnRules, type MatchedColumns, matchColumns } from "./columns.ts";
import type { CellFault } from "./count.ts";
import { NamelessColumns } from "./nameless-columns.ts";
import { checkWidth } from "./row-width.ts";

/** What a kind of small table (a log, a list) is made of. */
export interface RecordRules extends ColumnRules {
  /**
   * The column that says what a row is about: a row with a fault spoils this record only. Of several, the first
   * that is filled in a row.
   */
  readonly key: string | readonly string[];
}

/** One row of a small table. */
export interface SheetRecord {
  readonly line: number;
  /** The key as text; never empty. */
  readonly key: string;
  /** The column it stands in. */
  readonly keyColumn: string;
  /** The text of a column, made clean; empty when the column or the text is missing. */
  text(column: string): string;
  /** Where the cell of a column is, for findings; the row when the column is missing. */
  place(column: string): Place;
  /** Reports a fault in a cell; an error spoils the record. */
  fault(column: string, fault: CellFault): void;
}

/** A quick way for plain lines, which counts the rows it takes. */
export interface PlainRecords extends LineTaker {
  readonly rows: number;
}

/** What is known when a small table was read. */
export interface RecordsRead {
  /** How findings name it. */
  readonly place: string;
  readonly headerLine: number;
  readonly columns: MatchedColumns;
  /** True when a fault could hide or mix up any of its rows. */
  readonly unreadable: boolean;
  /** Keys of records with an error, with the codes. */
  readonly spoilt: ReadonlyMap<string, readonly FindingCode[]>;
  readonly digest: ReadFile;
}

/**
 * Reads a small table row by row. Every fault is reported, not only the first.
 *
 * @param take gets every row that has as many cells as the header and a key
 * @param plain makes a quick way for plain lines; what it takes does not come to `take`
 * @throws FileError when the file cannot be read any more
 */
export async function readRecords(
  input: InputFile,
  options: SheetOptions,
  rules: RecordRules,
  findings: FindingSink,
  take: (record: SheetRecord, columns: MatchedColumns, place: string) => void,
  plain?: (columns: MatchedColumns, table: TableReading, nameless: NamelessColumns) => PlainRecords,
): Promise<RecordsRead> {
  const table = await openTable(input, options, findings);
  const columns = matchColumns(table, rules, findings);
  const reader = new RecordReader(table, columns, rules, findings);
  let rows = 0;
  if (columns.isUsable && reader.hasKey) {
    const taker = plain?.(columns, table, reader.nameless);
    for await (const batch of table.batches(taker)) {
      rows += batch.rows.length;
      batch.rows.forEach((cells, at) => {
        const record = reader.record(cells, lineOf(batch.lines, at));
        if (record !== undefined) take(record, columns, table.place);
      });
    }
    rows += taker?.rows ?? 0;
  } else reader.unreadable = true;
  reader.end();
  return {
    place: table.place,
    headerLine: table.headerLine,
    columns,
    unreadable: reader.unreadable || table.isBroken,
    spoilt: reader.spoilt,
    digest: { ...(await table.digest()), rows },
  };
}

/** So many cells are remembered once they are clean. */
const MOST_CLEANED = 1 << 12;

/** A row with a key. */
class Row implements SheetRecord {
  readonly line: number;
  readonly key: string;
  readonly keyColumn: string;
  readonly #reader: RecordReader;
  readonly #cells: readonly string[];

  constructor(reader: RecordReader, cells: readonly string[], line: number, key: string, keyColumn: string) {
    this.#reader = reader;
    this.#cells = cells;
    this.line = line;
    this.key = key;
    this.keyColumn = keyColumn;
  }

  text(column: string): string {
    return column === this.keyColumn ? this.key : this.#reader.text(this.#cells, column, this);
  }

  place(column: string): Place {
    return this.#reader.place(this.line, column);
  }

  fault(column: string, fault: CellFault): void {
    this.#reader.report(this.place(column), fault, this.key, this.keyColumn);
  }
}

class RecordReader {
  unreadable = false;
  readonly spoilt = new Map<string, FindingCode[]>();
  readonly #table: TableReading;
  readonly #columns: MatchedColumns;
  readonly #findings: FindingSink;
  readonly #keys: readonly string[];
  /** Cells of columns with other names, by the name in the header. */
  readonly #extraAt: ReadonlyMap<string, number>;
  readonly nameless: NamelessColumns;
  /** Cells met before, made clean: what many rows say is one text in memory. */
  readonly #cleaned = new Map<string, string>();

  constructor(table: TableReading, columns: MatchedColumns, rules: RecordRules, findings: FindingSink) {
    this.#table = table;
    this.#columns = columns;
    this.#findings = findings;
    const keys = typeof rules.key === "string" ? [rules.key] : rules.key;
    this.#keys = keys.filter((key) => columns.at.has(key));
    this.#extraAt = new Map(columns.extra.map((cell) => [cell.text, cell.column - 1]));
    this.nameless = new NamelessColumns(table, columns.nameless);
  }

  /** Whether the table has a column that can say what a row is about. */
  get hasKey(): boolean {
    return this.#keys.length > 0;
  }

  record(cells: readonly string[], line: number): SheetRecord | undefined {
    const table = this.#table;
    const width = checkWidth(cells, table.header.length);
    if (width !== undefined) {
      this.report(
        { file: table.place, line, column: 0 },
        width,
        this.#trustedKey(cells),
        this.#keys[0] ?? "",
      );
      return undefined;
    }
    if (!this.nameless.isDone) this.nameless.look(cells, line);
    for (const keyColumn of this.#keys) {
      const cell = cleanCell(cells[this.#at(keyColumn) ?? -1] ?? "");
      const isLost = isUnusable(cell);
      if (cell.fault !== undefined)
        this.report(this.place(line, keyColumn), cell.fault, isLost ? "" : cell.text, keyColumn);
      if (isLost) return undefined;
      if (cell.text === "") continue;
      return new Row(this, cells, line, ownText(cell.text), keyColumn);
    }
    const [first = ""] = this.#keys;
    const message = `the row has no ${this.#keys.join(" or ")}`;
    this.report(this.place(line, first), { code: "missing-key", message }, "", first);
    return undefined;
  }

  end(): void {
    this.nameless.report((place, fault) =>
      this.#findings.add(finding(fault.code, place, { message: fault.message, severity: "warning" })),
    );
  }

  #at(column: string): number | undefined {
    return this.#columns.at.get(column) ?? this.#extraAt.get(column);
  }

  place(line: number, column: string): Place {
    return { file: this.#table.place, line, column: (this.#at(column) ?? -1) + 1 };
  }

  text(cells: readonly string[], column: string, { line, key, keyColumn }: Row): string {
    const at = this.#at(column);
    const raw = at === undefined ? "" : (cells[at] ?? "");
    if (raw === "") return "";
    const known = this.#cleaned.get(raw);
    if (known !== undefined) return known;
    const cell = cleanCell(raw);
    if (cell.fault !== undefined && isUnusable(cell)) {
      this.report(this.place(line, column), cell.fault, key, keyColumn);
      return "";
    }
    const text = ownText(cell.text);
    if (this.#cleaned.size < MOST_CLEANED) this.#cleaned.set(ownText(raw), text);
    return text;
  }

  /** The key of a row of the wrong width: a lost or extra delimiter moves all cells but the first. */
  #trustedKey(cells: readonly string[]): string {
    const [first] = this.#keys;
    if (first === undefined || this.#at(first) !== 0) return "";
    const cell = cleanCell(cells[0] ?? "");
    return isUnusable(cell) ? "" : cell.text;
  }

  /** Reports a fault; an error spoils the record of the key, or the whole table when there is no key. */
  report(place: Place, fault: CellFault, key: string, keyColumn: string): void {
    const sampleId = keyColumn === "sample_id" ? key : "";
    const found = finding(fault.code, place, { message: fault.message, hint: fault.hint, sampleId });
    this.#findings.add(found);
    if (found.severity !== "error") return;
    if (key === "") {
      this.unreadable = true;
      return;
    }
    const codes = this.spoilt.get(key);
    if (codes === undefined) this.spoilt.set(key, [fault.code]);
    else if (!codes.includes(fault.code)) codes.push(fault.code);
  }
}
