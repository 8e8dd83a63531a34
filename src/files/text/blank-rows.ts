import type { FindingSink } from "../../findings/collector.ts";
import { finding } from "../../findings/finding.ts";
import type { RowBatch } from "./records.ts";
import { lineOf } from "./records.ts";

/**
 * Leaves out rows without any text and remembers those that stand between others: they may be what is left of
 * rows that were lost. Blank rows before the header and at the end are usual and mean nothing.
 */
export class BlankRows {
  readonly #place: string;
  /** Blank rows that nothing has followed yet. */
  #trailing = 0;
  #firstTrailing = 0;
  #within = 0;
  #firstWithin = 0;

  constructor(place: string) {
    this.#place = place;
  }

  withoutBlanks(batch: RowBatch): RowBatch {
    if (!batch.rows.some(isBlank)) {
      if (batch.rows.length > 0) this.rowsFollow();
      return batch;
    }
    const rows: (readonly string[])[] = [];
    const lines: number[] = [];
    batch.rows.forEach((row, index) => {
      const line = lineOf(batch.lines, index);
      if (isBlank(row)) {
        if (this.#trailing === 0) this.#firstTrailing = line;
        this.#trailing++;
        return;
      }
      this.rowsFollow();
      rows.push(row);
      lines.push(line);
    });
    return { rows, lines };
  }

  report(findings: FindingSink): void {
    if (this.#within === 0) return;
    const message =
      this.#within === 1 ? "a blank row was skipped" : `${this.#within} blank rows were skipped`;
    const at = { file: this.#place, line: this.#firstWithin, column: 0 };
    findings.add(finding("blank-rows", at, { message }));
  }

  /** Says that a row with text follows: blank rows before it stand between rows. */
  rowsFollow(): void {
    if (this.#trailing === 0) return;
    if (this.#within === 0) this.#firstWithin = this.#firstTrailing;
    this.#within += this.#trailing;
    this.#trailing = 0;
  }
}

/** Whether no cell of a row has any text. */
export function isBlank(row: readonly string[]): boolean {
  const first = row[0];
  // Nearly every row is told by its first character.
  if (first !== undefined && first.charCodeAt(0) > 32 && first.charCodeAt(0) !== 0xa0) return false;
  return row.every((cell) => cell.trim() === "");
}
