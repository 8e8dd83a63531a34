import type { TableReading } from "../files/table-reading.ts";
import { lineOf } from "../files/text/records.ts";
import { quoted } from "../files/visible-text.ts";
import { finding } from "../findings/finding.ts";
import type { BenchSheetBuilder } from "./bench-sheet-builder.ts";
import { countFault, plainCount } from "./count.ts";
import { type CrossTabColumns, crossTabColumns } from "./cross-tab-columns.ts";
import { RunningSum } from "./left-out-rows.ts";
import { NamelessColumns } from "./nameless-columns.ts";
import { RowFactsReader, rareFaults } from "./row-facts.ts";
import { checkWidth } from "./row-width.ts";
import type { SummaryKind } from "./summary-rows.ts";

/**
 * Reads a bench sheet of one row a taxon and one column a sample. A blank cell and a 0 both mean that the sample
 * does not have the taxon.
 *
 * @returns the number of rows below the header
 */
export async function readCrossTab(table: TableReading, builder: BenchSheetBuilder): Promise<number> {
  const columns = crossTabColumns(table, builder);
  if (columns === undefined) {
    builder.unreadable = true;
    return 0;
  }
  const reader = new CrossTabReader(table, columns, builder);
  let rows = 0;
  for await (const batch of table.batches()) {
    rows += batch.rows.length;
    for (let at = 0; at < batch.rows.length; at++) {
      const cells = batch.rows[at];
      if (cells !== undefined) reader.take(cells, lineOf(batch.lines, at));
    }
  }
  reader.end();
  return rows;
}

/** A column that is taken for a sample until its cells say otherwise. */
interface SampleColumn {
  readonly sampleId: string;
  readonly at: number;
  hasCount: boolean;
  /** Of the counts so far. */
  readonly sum: RunningSum;
  /** Cells that are no counts, while no cell was one. */
  readonly faulty: { readonly line: number; readonly cell: string }[];
}

class CrossTabReader {
  readonly #file: string;
  readonly #headerLine: number;
  readonly #width: number;
  readonly #builder: BenchSheetBuilder;
  readonly #taxonAt: number;
  readonly #samples: readonly SampleColumn[];
  readonly #facts: RowFactsReader;
  readonly #nameless: NamelessColumns;

  constructor(table: TableReading, columns: CrossTabColumns, builder: BenchSheetBuilder) {
    this.#file = table.place;
    this.#headerLine = table.headerLine;
    this.#width = table.header.length;
    this.#builder = builder;
    this.#taxonAt = columns.taxonAt;
    this.#samples = columns.samples.map((sample) => ({
      ...sample,
      hasCount: false,
      sum: new RunningSum(),
      faulty: [],
    }));
    this.#facts = new RowFactsReader(columns.factsAt);
    this.#nameless = new NamelessColumns(table, columns.nameless);
    builder.table.setNameColumn(columns.taxonAt + 1);
    // A sample without any animal is a sample all the same.
    for (const { sampleId } of columns.samples) builder.table.samples.add(sampleId);
  }

  take(cells: readonly string[], line: number): void {
    const builder = this.#builder;
    if (cells.length !== this.#width) {
      const fault = checkWidth(cells, this.#width);
      if (fault !== undefined) {
        // Any of the cells may stand under another sample now.
        builder.fail({ file: this.#file, line, column: 0 }, fault);
        return;
      }
    }
    if (!this.#nameless.isDone) this.#nameless.look(cells, line);
    const rawName = cells[this.#taxonAt] ?? "";
    const name = builder.name(rawName, this.#file, line, this.#taxonAt + 1);
    const kind = builder.summaryOf(name);
    if (kind !== undefined) {
      this.#leaveOut(kind, cells, line, name);
      return;
    }
    const facts = this.#facts.read(cells);
    const { faults } = this.#facts;
    for (const sample of this.#samples) {
      const cell = cells[sample.at] ?? "";
      const count = cell === "" ? 0 : plainCount(cell);
      if (count === 0) {
        if (cell !== "") this.#settle(sample);
        continue;
      }
      if (count < 0) {
        if (cell.trim() !== "") this.#takeFaulty(sample, line, cell);
        continue;
      }
      this.#settle(sample);
      sample.sum.add(count);
      const place = { file: this.#file, line, column: sample.at + 1 };
      if (name === "") {
        builder.fault({ ...place, column: this.#taxonAt + 1 }, builder.nameFault(rawName), sample.sampleId);
        continue;
      }
      for (const fault of faults) builder.fault({ ...place, column: fault.column }, fault, sample.sampleId);
      if (facts.rare !== undefined) {
        for (const fault of rareFaults(facts.rare, count)) builder.fault(place, fault, sample.sampleId);
      }
      builder.table.add({
        sampleId: sample.sampleId,
        name,
        count,
        stage: facts.stage,
        flags: facts.flags,
        line,
        column: sample.at + 1,
        rare: facts.rare,
      });
    }
  }

  end(): void {
    // Such a column may be a sample whose name was lost.
    this.#nameless.report((place, fault) => this.#builder.fail(place, fault));
    for (const sample of this.#samples) {
      if (sample.hasCount || sample.faulty.length === 0) continue;
      const [first] = sample.faulty;
      const message = `no cell of the column ${quoted(sample.sampleId)} is a count; the first is ${quoted(first?.cell ?? "")} in line ${first?.line ?? 0}`;
      const place = { file: this.#file, line: this.#headerLine, column: sample.at + 1 };
      this.#builder.fault(place, { code: "not-a-sample", message }, sample.sampleId);
    }
  }

  /** A row that sums up others is left out, and one of totals held against the counts above it: a difference is a slip in one of them. */
  #leaveOut(kind: SummaryKind, cells: readonly string[], line: number, name: string): void {
    const note = { message: `the row ${quoted(name)} sums up others and was left out` };
    const place = { file: this.#file, line, column: this.#taxonAt + 1 };
    this.#builder.findings.add(finding("left-out-row", place, note));
    if (kind !== "total") return;
    for (const sample of this.#samples) {
      const total = plainCount(cells[sample.at] ?? "");
      const message = total < 0 ? undefined : sample.sum.differs(total);
      if (message === undefined) continue;
      const at = { file: this.#file, line, column: sample.at + 1 };
      this.#builder.fault(at, { code: "wrong-total", message }, sample.sampleId);
    }
  }

  /** The column has a count, so it is a sample, and the cells that are no counts are faults of their own. */
  #settle(sample: SampleColumn): void {
    if (sample.hasCount) return;
    sample.hasCount = true;
    for (const { line, cell } of sample.faulty) this.#report(sample, line, cell);
    sample.faulty.length = 0;
  }

  #takeFaulty(sample: SampleColumn, line: number, cell: string): void {
    if (sample.hasCount) this.#report(sample, line, cell);
    else sample.faulty.push({ line, cell });
  }

  #report(sample: SampleColumn, line: number, cell: string): void {
    const place = { file: this.#file, line, column: sample.at + 1 };
    this.#builder.fault(place, countFault(cell), sample.sampleId);
  }
}
