import { distance } from "fastest-levenshtein";
import type { HeaderCell, TableReading } from "../files/table-reading.ts";
import { lineOf } from "../files/text/records.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { cleanCell, isUnusable } from "./cell-text.ts";
import { unusedColumns } from "./unused-columns.ts";

/** Other writings of a column that can mean nothing else, and that decide which animals count. */
const SAME_COLUMN: ReadonlyMap<string, string> = new Map([
  ["stage", "life_stage"],
  ["lifestage", "life_stage"],
]);

/** The name of a column as the program compares it: lower case, underscores for blanks and hyphens. */
export function columnKey(header: string): string {
  const key = cleanCell(header)
    .text.toLowerCase()
    .replace(/[\s-]+/g, "_");
  return SAME_COLUMN.get(key) ?? key;
}

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
  const further = missing.length === 0 ? undefined : headerHint(table, rules.required);
  for (const name of missing) {
    const hint = further ?? closestHint(name, extra);
    report("missing-column", 0, missingMessage(name, table.header), true, hint);
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

function missingMessage(name: string, header: readonly HeaderCell[]): string {
  const names = header.filter((cell) => cell.text !== "").map((cell) => quoted(cell.text, 30).slice(1, -1));
  const shown = names.length > 12 ? `${names.slice(0, 12).join(", ")}, …` : names.join(", ");
  return `there is no column "${name}"; the columns are ${shown}`;
}

/** Points at a header row further down, below a title or remarks; never takes it by itself. */
function headerHint(table: TableReading, required: readonly string[]): string | undefined {
  const { rows, lines } = table.ahead;
  const at = rows.slice(0, 30).findIndex((row) => {
    const keys = row.map(columnKey);
    // A cross-tab sheet has only the taxon and samples.
    const isCrossTab = keys.includes("taxon") && keys.filter((key) => key !== "").length > 1;
    return required.every((name) => keys.includes(name)) || (required.includes("taxon") && isCrossTab);
  });
  if (at < 0) return undefined;
  return `line ${lineOf(lines, at)} looks like the header; delete the lines above it`;
}

/** Points at a header that is likely meant; never takes it by itself. */
function closestHint(name: string, extra: readonly HeaderCell[]): string | undefined {
  let closest: string | undefined;
  let least = Math.max(2, Math.floor(name.length / 3)) + 1;
  for (const cell of extra) {
    const far = distance(name, columnKey(cell.text));
    if (far < least) {
      least = far;
      closest = cell.text;
    }
  }
  return closest === undefined ? undefined : `if ${quoted(closest, 30)} is meant, call it ${name}`;
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
