import { quoted } from "../files/visible-text.ts";
import { finding } from "../findings/finding.ts";
import type { BenchSheetBuilder } from "./bench-sheet-builder.ts";
import { plainCount } from "./count.ts";
import type { SummaryKind } from "./summary-rows.ts";

/** A row of totals of one sample. */
interface TotalRow {
  readonly sampleId: string;
  readonly total: number;
  readonly line: number;
  /** Rows of the table before it. */
  readonly at: number;
}

/**
 * Rows of a long sheet that sum up others (`summaryKindOf`): left out with a note, totals held against the counts
 * above them.
 */
export class LeftOutRows {
  readonly #file: string;
  readonly #builder: BenchSheetBuilder;
  readonly #nameColumn: number;
  readonly #countColumn: number;
  readonly #firstRow: number;
  readonly #lines = new Map<string, { readonly line: number; rows: number }>();
  readonly #totals: TotalRow[] = [];

  /** @param columns 1-based numbers of the fields with the name and the count */
  constructor(
    file: string,
    builder: BenchSheetBuilder,
    columns: { readonly name: number; readonly count: number },
  ) {
    this.#file = file;
    this.#builder = builder;
    this.#nameColumn = columns.name;
    this.#countColumn = columns.count;
    this.#firstRow = builder.table.size;
  }

  /** @param sampleId undefined when the row belongs to no sample, as a sum of the whole sheet does */
  add(kind: SummaryKind, name: string, rawCount: string, sampleId: string | undefined, line: number): void {
    const met = this.#lines.get(name);
    if (met === undefined) this.#lines.set(name, { line, rows: 1 });
    else met.rows++;
    const total = plainCount(rawCount);
    // A sample of which nothing but its total of 0 is written is a sample all the same.
    if (sampleId !== undefined) this.#builder.table.samples.add(sampleId);
    if (kind === "total" && sampleId !== undefined && total >= 0)
      this.#totals.push({ sampleId, total, line, at: this.#builder.table.size });
  }

  /** Reports them, once for each name. */
  report(): void {
    for (const [name, { line, rows }] of this.#lines) {
      const place = { file: this.#file, line, column: this.#nameColumn };
      const which = rows === 1 ? "the row" : `${rows} rows called`;
      const message = `${which} ${quoted(name)} sum${rows === 1 ? "s" : ""} up others and ${rows === 1 ? "was" : "were"} left out`;
      this.#builder.findings.add(finding("left-out-row", place, { message }));
    }
    if (this.#totals.length > 0) this.#checkTotals();
  }

  #checkTotals(): void {
    const { table } = this.#builder;
    const sums = new Map<string, RunningSum>();
    for (const { sampleId } of this.#totals) sums.set(sampleId, new RunningSum());
    let row = this.#firstRow;
    for (const { sampleId, total, line, at } of this.#totals) {
      for (; row < at; row++) sums.get(table.samples.textOf(table.sampleAt(row)))?.add(table.countAt(row));
      const message = sums.get(sampleId)?.differs(total);
      if (message === undefined) continue;
      const place = { file: this.#file, line, column: this.#countColumn };
      this.#builder.fault(place, { code: "wrong-total", message }, sampleId);
    }
  }
}

/** The counts of a sample above a row of totals, which may sum up all of them or those since an earlier one. */
export class RunningSum {
  #sum = 0;
  readonly #earlier: number[] = [0];

  add(count: number): void {
    this.#sum += count;
  }

  /** How a total differs from the counts above it; undefined when it is their sum. */
  differs(total: number): string | undefined {
    const sum = this.#sum;
    const agrees = this.#earlier.some((start) => sum - start === total);
    this.#earlier.push(sum);
    return agrees ? undefined : `the total is ${total}, the counts above it add up to ${sum}`;
  }
}
