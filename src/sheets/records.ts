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
  /** The column that says what a row is about: a row with a fault spoils this record only. */
  readonly key: string;
}

/** One row of a small table. */
export interface SheetRecord {
  readonly line: number;
  /** The key as text; never empty. */
  readonly key: string;
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
  if (columns.isUsable) {
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
  readonly #rules: RecordRules;
  readonly #findings: FindingSink;
  readonly #keyAt: number;
  readonly #nameless: NamelessColumns;

  constructor(table: TableReading, columns: MatchedColumns, rules: RecordRules, findings: FindingSink) {
    this.#table = table;
    this.#columns = columns;
    this.#rules = rules;
    this.#findings = findings;
    this.#keyAt = columns.at.get(rules.key) ?? 0;
    this.#nameless = new NamelessColumns(table, columns.nameless);
  }

  record(cells: readonly string[], line: number): SheetRecord | undefined {
    const table = this.#table;
    const width = checkWidth(cells, table.header.length);
    const keyCell = cleanCell(cells[this.#keyAt] ?? "");
    const place = (column: string): Place => {
      const at = this.#columns.at.get(column) ?? this.#extraAt(column);
      return { file: table.place, line, column: at === undefined ? 0 : at + 1 };
    };
    if (width !== undefined) {
      // A lost or extra delimiter moves the cells behind it, so only the first cell can be trusted.
      const key = this.#keyAt === 0 && !isUnusable(keyCell) ? keyCell.text : "";
      this.#report({ file: table.place, line, column: 0 }, width, key);
      return undefined;
    }
    if (!this.#nameless.isDone) this.#nameless.look(cells, line);
    if (keyCell.fault !== undefined) {
      const isLost = isUnusable(keyCell);
      this.#report(place(this.#rules.key), keyCell.fault, isLost ? "" : keyCell.text);
      if (isLost) return undefined;
    }
    if (keyCell.text === "") {
      const fault = { code: "missing-key", message: `the row has no ${this.#rules.key}` } as const;
      this.#report(place(this.#rules.key), fault, "");
      return undefined;
    }
    const key = ownText(keyCell.text);
    return {
      line,
      key,
      place,
      text: (column) => {
        const at = this.#columns.at.get(column) ?? this.#extraAt(column);
        const raw = at === undefined ? "" : (cells[at] ?? "");
        if (raw === "") return "";
        const cell = cleanCell(raw);
        if (cell.fault === undefined || !isUnusable(cell)) return ownText(cell.text);
        this.#report(place(column), cell.fault, key);
        return "";
      },
      fault: (column, fault) => this.#report(place(column), fault, key),
    };
  }

  end(): void {
    this.#nameless.report((place, fault) =>
      this.#findings.add(finding(fault.code, place, { message: fault.message, severity: "warning" })),
    );
  }

  #extraAt(column: string): number | undefined {
    const cell = this.#columns.extra.find((extra) => extra.text === column);
    return cell === undefined ? undefined : cell.column - 1;
  }

  /** Reports a fault; an error spoils the record of the key, or the whole table when there is no key. */
  #report(place: Place, fault: CellFault, key: string): void {
    const sampleId = this.#rules.key === "sample_id" ? key : "";
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
