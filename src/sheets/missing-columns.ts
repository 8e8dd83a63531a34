import { distance } from "fastest-levenshtein";
import type { HeaderCell, TableReading } from "../files/table-reading.ts";
import { lineOf } from "../files/text/records.ts";
import { quoted } from "../files/visible-text.ts";
import { columnKey } from "./column-key.ts";
import { meantColumn } from "./unused-columns.ts";

/** What is said of the columns that a table lacks: all in one, so that one look at the header is enough. */
export interface MissingColumns {
  readonly message: string;
  /** Undefined: the usual one. */
  readonly hint: string | undefined;
}

/** @param missing the columns that are needed and not there, at least one */
export function missingColumns(
  table: TableReading,
  missing: readonly string[],
  required: readonly string[],
  extra: readonly HeaderCell[],
): MissingColumns {
  return {
    message: `${missingText(missing)}; ${presentText(table.header)}`,
    hint:
      foreignFile(table) ?? headerBelow(table, required) ?? otherDelimiter(table) ?? renaming(missing, extra),
  };
}

function missingText(missing: readonly string[]): string {
  const names = missing.map((name) => `"${name}"`);
  return names.length === 1 ? `there is no column ${names[0]}` : `there are no columns ${listText(names)}`;
}

function presentText(header: readonly HeaderCell[]): string {
  const names = header.filter((cell) => cell.text !== "").map((cell) => shownName(cell));
  const shown = names.length > 12 ? `${names.slice(0, 12).join(", ")}, …` : names.join(", ");
  return names.length === 1 ? `the only column is ${shown}` : `the columns are ${shown}`;
}

function shownName(cell: HeaderCell): string {
  return quoted(cell.text, 30).slice(1, -1);
}

function listText(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

/** A text with the name of a workbook; a sheet of a workbook would be named behind #. */
function foreignFile({ place }: TableReading): string | undefined {
  if (!/\.xlsx?$/i.test(place)) return undefined;
  return "the file is called a workbook and holds text: open it in a spreadsheet program, look at what it is, and save it as .xlsx or as CSV";
}

/** Points at a header row further down, below a title or remarks; never takes it by itself. */
function headerBelow(table: TableReading, required: readonly string[]): string | undefined {
  const { rows, lines } = table.ahead;
  const at = rows.slice(0, 30).findIndex((row) => {
    const keys = row.map(columnKey);
    // A cross-tab sheet has only the taxon and samples.
    const isCrossTab = keys.includes("taxon") && keys.filter((key) => key !== "").length > 1;
    return required.every((name) => keys.includes(name)) || (required.includes("taxon") && isCrossTab);
  });
  return at < 0 ? undefined : `line ${lineOf(lines, at)} looks like the header; delete the lines above it`;
}

/** Marks that some programs write between cells; they are not taken, because they also stand in names and notes. */
const OTHER_DELIMITERS: readonly (readonly [RegExp, string])[] = [
  [/\|/, "bars (|)"],
  [/ {2,}/, "blanks"],
  [/:/, "colons"],
  [/\^/, "carets (^)"],
  [/~/, "tildes (~)"],
];

function otherDelimiter({ header }: TableReading): string | undefined {
  const [only, second] = header;
  if (only === undefined || second !== undefined) return undefined;
  const found = OTHER_DELIMITERS.find(([mark]) => only.raw.trim().split(mark).length > 2);
  if (found === undefined) return undefined;
  return `the cells seem to be parted by ${found[1]}: save the sheet again with commas, semicolons or tabs between them`;
}

/** Points at the headers that are likely meant; never takes them by itself. */
function renaming(missing: readonly string[], extra: readonly HeaderCell[]): string | undefined {
  const taken = new Set<HeaderCell>();
  const pairs = missing.flatMap((name) => {
    const open = extra.filter((cell) => !taken.has(cell) && cell.text !== "");
    const meant = open.find((cell) => meantColumn(cell.text, [name]) === name) ?? closest(name, open);
    if (meant === undefined) return [];
    taken.add(meant);
    return [{ name, meant: quoted(meant.text, 30) }];
  });
  const [first] = pairs;
  if (first === undefined) return undefined;
  if (pairs.length === 1) return `if ${first.meant} is meant, call it ${first.name}`;
  return `if these are meant, call ${listText(pairs.map(({ name, meant }) => `${meant} ${name}`))}`;
}

function closest(name: string, cells: readonly HeaderCell[]): HeaderCell | undefined {
  let found: HeaderCell | undefined;
  let least = Math.max(2, Math.floor(name.length / 3)) + 1;
  for (const cell of cells) {
    const far = distance(name, columnKey(cell.text));
    if (far < least) {
      least = far;
      found = cell;
    }
  }
  return found;
}
