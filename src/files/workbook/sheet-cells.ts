import { zipSync } from "fflate";
import { readSheet } from "read-excel-file/universal";

/** Parts of a workbook by their paths in the archive. */
export type WorkbookParts = ReadonlyMap<string, Uint8Array>;

/**
 * The cells of a sheet as texts, row by row from the first row on, all rows as long as the longest. Numbers are
 * written out with the fewest digits that mean the same number, dates as year-month-day (with a time of day when
 * they have one), yes and no as TRUE and FALSE.
 *
 * @param parts the parts that were checked; only these are read, whatever else the archive holds
 */
export async function sheetCells(parts: WorkbookParts, sheet: string): Promise<string[][]> {
  const files: Record<string, Uint8Array> = Object.create(null);
  for (const [path, content] of parts) files[path] = content;
  const archive = zipSync(files, { level: 0 });
  const buffer = archive.buffer.slice(archive.byteOffset, archive.byteOffset + archive.byteLength);
  const rows = await readSheet(buffer, sheet, { trim: false, parseNumber: (text) => new NumberText(text) });
  return rows.map((row) => row.map(cellText));
}

/** A number as the workbook writes it; wrapped so that it cannot be taken for a text cell. */
class NumberText {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

function cellText(value: unknown): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "string") return value;
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  if (value instanceof NumberText) return numberOf(value.text);
  if (value instanceof Date) return dateText(value);
  return String(value);
}

/** Whole numbers as they are, since they may be longer than a number can hold; others as their shortest text. */
function numberOf(text: string): string {
  const trimmed = text.trim();
  if (/^-?\d+$/.test(trimmed)) return trimmed;
  const value = Number(trimmed);
  if (!Number.isFinite(value)) return trimmed;
  return Number.isInteger(value) && Math.abs(value) < 1e15 ? value.toFixed(0) : String(value);
}

function dateText(date: Date): string {
  if (Number.isNaN(date.getTime())) return "";
  // Fractions of a day are not exact in a workbook; whole seconds are meant.
  const text = new Date(Math.round(date.getTime() / 1000) * 1000).toISOString();
  return text.endsWith("T00:00:00.000Z") ? text.slice(0, 10) : text.slice(0, 19);
}
