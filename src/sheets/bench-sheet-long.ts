import type { TableReading } from "../files/table-reading.ts";
import { lineOf } from "../files/text/records.ts";
import { finding } from "../findings/finding.ts";
import type { BenchSheetBuilder } from "./bench-sheet-builder.ts";
import type { MatchedColumns } from "./columns.ts";
import { countFault, plainCount } from "./count.ts";
import { LeftOutRows } from "./left-out-rows.ts";
import { NamelessColumns } from "./nameless-columns.ts";
import { PlainRows } from "./plain-rows.ts";
import { RowFactsReader, rareFaults } from "./row-facts.ts";
import { checkWidth } from "./row-width.ts";

/**
 * Reads a bench sheet of one row a sample, taxon and life stage.
 *
 * @returns the number of rows below the header
 */
export async function readLongSheet(
  table: TableReading,
  columns: MatchedColumns,
  builder: BenchSheetBuilder,
): Promise<number> {
  const reader = new LongSheetReader(table, columns, builder);
  let rows = 0;
  const plain = reader.plainRows();
  for await (const batch of table.batches(plain)) {
    rows += batch.rows.length;
    for (let at = 0; at < batch.rows.length; at++) {
      const cells = batch.rows[at];
      if (cells !== undefined) reader.take(cells, lineOf(batch.lines, at));
    }
  }
  reader.end();
  return rows + plain.rows;
}

class LongSheetReader {
  readonly #file: string;
  readonly #width: number;
  readonly #builder: BenchSheetBuilder;
  readonly #sampleAt: number;
  readonly #nameAt: number;
  readonly #countAt: number;
  readonly #facts: RowFactsReader;
  readonly #nameless: NamelessColumns;
  readonly #leftOut: LeftOutRows;
  #lastRaw = "";
  #lastSample: string | undefined;

  constructor(table: TableReading, columns: MatchedColumns, builder: BenchSheetBuilder) {
    this.#file = table.place;
    this.#width = table.header.length;
    this.#builder = builder;
    this.#sampleAt = columns.at.get("sample_id") ?? 0;
    this.#nameAt = columns.at.get("taxon") ?? 0;
    this.#countAt = columns.at.get("count") ?? 0;
    this.#facts = new RowFactsReader(columns.at);
    builder.table.setNameColumn(this.#nameAt + 1);
    this.#nameless = new NamelessColumns(table, columns.nameless);
    this.#leftOut = new LeftOutRows(table.place, builder, {
      name: this.#nameAt + 1,
      count: this.#countAt + 1,
    });
  }

  /** The quick way for rows in which nothing needs a second look; the others come to `take`. */
  plainRows(): PlainRows {
    const columns = {
      width: this.#width,
      sample: this.#sampleAt,
      name: this.#nameAt,
      count: this.#countAt,
      facts: this.#facts.columns,
      nameless: this.#nameless,
    };
    return new PlainRows(columns, this.#builder.table, this.#facts);
  }

  take(cells: readonly string[], line: number): void {
    if (cells.length !== this.#width && !this.#isWide(cells, line)) return;
    if (!this.#nameless.isDone) this.#nameless.look(cells, line);
    const rawSample = cells[this.#sampleAt] ?? "";
    if (rawSample.trim() === "" && this.#isSummary(cells, undefined, line)) return;
    const sampleId = this.#sampleOf(rawSample, line);
    const rawCount = cells[this.#countAt] ?? "";
    const count = plainCount(rawCount);
    const facts = this.#facts.read(cells);
    const builder = this.#builder;
    const rawName = cells[this.#nameAt] ?? "";
    const name = builder.name(rawName, this.#file, line, this.#nameAt + 1);
    if (sampleId === undefined) {
      // The run is refused; the other faults of the row are still worth knowing.
      if (count < 0) builder.fail(this.#place(line, this.#countAt), countFault(rawCount));
      return;
    }
    if (builder.summaryOf(name) !== undefined && this.#isSummary(cells, sampleId, line)) return;
    let isWhole = true;
    if (name === "") {
      isWhole = false;
      builder.fault(this.#place(line, this.#nameAt), builder.nameFault(rawName), sampleId);
    }
    if (count < 0) {
      isWhole = false;
      builder.fault(this.#place(line, this.#countAt), countFault(rawCount), sampleId);
    }
    const { faults } = this.#facts;
    for (const fault of faults)
      builder.fault({ file: this.#file, line, column: fault.column }, fault, sampleId);
    if (!isWhole) return;
    const { rare } = facts;
    if (rare !== undefined) {
      for (const fault of rareFaults(rare, count))
        builder.fault(this.#place(line, this.#countAt), fault, sampleId);
    }
    builder.table.add({
      sampleId,
      name,
      count,
      stage: facts.stage,
      flags: facts.flags,
      line,
      column: this.#countAt + 1,
      rare,
    });
  }

  /** Leaves a row out that sums up others; says whether it is one. */
  #isSummary(cells: readonly string[], sampleId: string | undefined, line: number): boolean {
    const name = this.#builder.name(cells[this.#nameAt] ?? "", this.#file, line, this.#nameAt + 1);
    const kind = this.#builder.summaryOf(name);
    if (kind === undefined) return false;
    this.#leftOut.add(kind, name, cells[this.#countAt] ?? "", sampleId, line);
    return true;
  }

  end(): void {
    this.#leftOut.report();
    this.#nameless.report((place, fault) =>
      this.#builder.findings.add(finding(fault.code, place, { message: fault.message })),
    );
  }

  #sampleOf(raw: string, line: number): string | undefined {
    // Sheets are written sample by sample, so most rows have the id of the row above.
    if (this.#lastSample !== undefined && raw === this.#lastRaw) return this.#lastSample;
    this.#lastSample = this.#builder.sample(raw, this.#file, line, this.#sampleAt + 1);
    this.#lastRaw = raw;
    return this.#lastSample;
  }

  /** Whether a row of another width can be used: empty cells beyond the header do no harm. */
  #isWide(cells: readonly string[], line: number): boolean {
    const fault = checkWidth(cells, this.#width);
    if (fault === undefined) return true;
    const place = { file: this.#file, line, column: 0 };
    // A lost or extra delimiter moves the cells behind it, so only the first cell can be trusted.
    const sampleId = this.#sampleAt === 0 ? this.#sampleOf(cells[0] ?? "", line) : undefined;
    if (sampleId === undefined) this.#builder.fail(place, fault);
    else this.#builder.fault(place, fault, sampleId);
    return false;
  }

  #place(line: number, at: number): { file: string; line: number; column: number } {
    return { file: this.#file, line, column: at + 1 };
  }
}
