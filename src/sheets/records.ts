import type { InputFile } from "../files/input.ts";
import { openTable } from "../files/table.ts";
import type { TableReading } from "../files/table-reading.ts";
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
 * @throws FileError when the file cannot be read any more
 */
export async function readRecords(
  input: InputFile,
  options: SheetOptions,
  rules: RecordRules,
  findings: FindingSink,
  take: (record: SheetRecord, columns: MatchedColumns, place: string) => void,
): Promise<RecordsRead> {
  const table = await openTable(input, options, findings);
  const columns = matchColumns(table, rules, findings);
  const reader = new RecordReader(table, columns, rules, findings);
  let rows = 0;
  if (columns.isUsable && reader.hasKey) {
    for await (const batch of table.batches()) {
      rows += batch.rows.length;
      batch.rows.forEach((cells, at) => {
        const record = reader.record(cells, lineOf(batch.lines, at));
        if (record !== undefined) take(record, columns, table.place);
      });
    }
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

class RecordReader {
  unreadable = false;
  readonly spoilt = new Map<string, FindingCode[]>();
  readonly #table: TableReading;
  readonly #columns: MatchedColumns;
  readonly #findings: FindingSink;
  readonly #keys: readonly string[];
  /** Cells of columns with other names, by the name in the header. */
  readonly #extraAt: ReadonlyMap<string, number>;
  readonly #nameless: NamelessColumns;

  constructor(table: TableReading, columns: MatchedColumns, rules: RecordRules, findings: FindingSink) {
    this.#table = table;
    this.#columns = columns;
    this.#findings = findings;
    const keys = typeof rules.key === "string" ? [rules.key] : rules.key;
    this.#keys = keys.filter((key) => columns.at.has(key));
    this.#extraAt = new Map(columns.extra.map((cell) => [cell.text, cell.column - 1]));
    this.#nameless = new NamelessColumns(table, columns.nameless);
  }

  /** Whether the table has a column that can say what a row is about. */
  get hasKey(): boolean {
    return this.#keys.length > 0;
  }

  record(cells: readonly string[], line: number): SheetRecord | undefined {
    const table = this.#table;
    const place = (column: string): Place => ({
      file: table.place,
      line,
      column: (this.#at(column) ?? -1) + 1,
    });
    const width = checkWidth(cells, table.header.length);
    if (width !== undefined) {
      this.#report(
        { file: table.place, line, column: 0 },
        width,
        this.#trustedKey(cells),
        this.#keys[0] ?? "",
      );
      return undefined;
    }
    if (!this.#nameless.isDone) this.#nameless.look(cells, line);
    for (const keyColumn of this.#keys) {
      const cell = cleanCell(cells[this.#at(keyColumn) ?? -1] ?? "");
      const isLost = isUnusable(cell);
      if (cell.fault !== undefined)
        this.#report(place(keyColumn), cell.fault, isLost ? "" : cell.text, keyColumn);
      if (isLost) return undefined;
      if (cell.text === "") continue;
      const key = ownText(cell.text);
      return {
        line,
        key,
        keyColumn,
        place,
        text: (column) => this.#text(cells, column, place, key, keyColumn),
        fault: (column, fault) => this.#report(place(column), fault, key, keyColumn),
      };
    }
    const [first = ""] = this.#keys;
    const message = `the row has no ${this.#keys.join(" or ")}`;
    this.#report(place(first), { code: "missing-key", message }, "", first);
    return undefined;
  }

  end(): void {
    this.#nameless.report((place, fault) =>
      this.#findings.add(finding(fault.code, place, { message: fault.message, severity: "warning" })),
    );
  }

  #at(column: string): number | undefined {
    return this.#columns.at.get(column) ?? this.#extraAt.get(column);
  }

  #text(
    cells: readonly string[],
    column: string,
    place: (column: string) => Place,
    key: string,
    keyColumn: string,
  ): string {
    const at = this.#at(column);
    const raw = at === undefined ? "" : (cells[at] ?? "");
    if (raw === "") return "";
    const cell = cleanCell(raw);
    if (cell.fault === undefined || !isUnusable(cell)) return ownText(cell.text);
    this.#report(place(column), cell.fault, key, keyColumn);
    return "";
  }

  /** The key of a row of the wrong width: a lost or extra delimiter moves all cells but the first. */
  #trustedKey(cells: readonly string[]): string {
    const [first] = this.#keys;
    if (first === undefined || this.#at(first) !== 0) return "";
    const cell = cleanCell(cells[0] ?? "");
    return isUnusable(cell) ? "" : cell.text;
  }

  /** Reports a fault; an error spoils the record of the key, or the whole table when there is no key. */
  #report(place: Place, fault: CellFault, key: string, keyColumn: string): void {
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
