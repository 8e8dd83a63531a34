import type { HeaderCell, TableReading } from "../files/table-reading.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { cleanCell, isUnusable } from "./cell-text.ts";
import { columnKey } from "./column-key.ts";
import { missingColumns } from "./missing-columns.ts";
import { crossTabKind, otherKind, seenKind, type TableKind } from "./table-kind.ts";
import { unusedColumns } from "./unused-columns.ts";

/** Which columns a table has. */
export interface MatchedColumns {
  /** Known columns that are there: name to 0-based number of the cell. */
  readonly at: ReadonlyMap<string, number>;
  /** Columns with another name, in their order. */
  readonly extra: readonly HeaderCell[];
  /** Columns whose header cell is empty. */
  readonly nameless: readonly HeaderCell[];
  /** False when a required column is missing or a known one stands twice: no row can be read then. */
  readonly isUsable: boolean;
}

/** What a kind of table asks of its header. */
export interface ColumnRules {
  /** What the table is meant to be; left out where any table with the columns will do. */
  readonly kind?: TableKind;
  readonly known: readonly string[];
  readonly required: readonly string[];
  /** What a column of another name is: kept out of the way, or data of its own that may not stand twice. */
  readonly extra: "ignored" | "data";
  /** Whether a column that is not read but looks like a known one is a doubt. */
  readonly doubtsNearNames?: boolean;
}

/** Finds the columns of a table by the names in its header and reports what is missing, twice or padded. */
export function matchColumns(table: TableReading, rules: ColumnRules, findings: FindingSink): MatchedColumns {
  const known = new Set(rules.known);
  const at = new Map<string, number>();
  const seen = new Map<string, HeaderCell>();
  const extra: HeaderCell[] = [];
  const nameless: HeaderCell[] = [];
  let isUsable = table.header.length > 0;
  const report = (code: FindingCode, column: number, message: string, isError?: boolean, hint?: string) =>
    findings.add(
      finding(
        code,
        { file: table.place, line: table.headerLine, column },
        { message, hint, severity: isError === undefined ? undefined : isError ? "error" : "warning" },
      ),
    );
  for (const cell of table.header) {
    if (cell.text === "") {
      nameless.push(cell);
      continue;
    }
    const key = columnKey(cell.text);
    const clean = cleanCell(cell.raw);
    if (clean.fault !== undefined && isUnusable(clean)) {
      report(clean.fault.code, cell.column, `header ${clean.fault.message}`);
      isUsable = false;
    }
    const isKnown = known.has(key);
    const twin = seen.get(key);
    if (twin !== undefined) {
      const isError = isKnown || rules.extra === "data";
      report(
        "duplicate-header",
        cell.column,
        `fields ${twin.column} and ${cell.column} are both called ${quoted(cell.text)}`,
        isError,
      );
      if (isError) isUsable = false;
      continue;
    }
    seen.set(key, cell);
    if (isKnown) at.set(key, cell.column - 1);
    else extra.push(cell);
  }
  reportPadding(table, findings);
  const missing = table.header.length === 0 ? [] : rules.required.filter((name) => !at.has(name));
  const keys = [...seen.keys()];
  const seenAs =
    missing.length > 0 ? (seenKind(keys) ?? crossTabKind(keys, rules.kind)) : otherKind(keys, rules.kind);
  if (rules.kind !== undefined && seenAs !== undefined && seenAs.kind !== rules.kind) {
    const message = `this looks like a ${seenAs.kind} (${seenAs.by.join(", ")}), and a ${rules.kind} is wanted here`;
    report("wrong-table", 0, message, true, seenAs.hint);
    isUsable = false;
  } else if (missing.length > 0) {
    const { message, hint } = missingColumns(table, missing, rules.required, extra);
    report("missing-column", 0, message, true, hint);
    isUsable = false;
  }
  if (isUsable && rules.doubtsNearNames === true) {
    for (const { cell, meant } of unusedColumns(extra, rules.known, at)) {
      if (meant === undefined) continue;
      report(
        "unused-column",
        cell.column,
        `the column ${quoted(cell.text)} is not used; did you mean ${meant}?`,
      );
    }
  }
  return { at, extra, nameless, isUsable };
}

function reportPadding(table: TableReading, findings: FindingSink): void {
  const padded = table.header.filter((cell) => cell.raw !== cell.raw.trim());
  const [first] = padded;
  if (first === undefined) return;
  const message =
    padded.length === 1
      ? `the header ${quoted(first.raw)} has white space at its ends`
      : `${padded.length} headers have white space at their ends, the first is ${quoted(first.raw)}`;
  findings.add(
    finding(
      "padded-header",
      { file: table.place, line: table.headerLine, column: first.column },
      { message },
    ),
  );
}
