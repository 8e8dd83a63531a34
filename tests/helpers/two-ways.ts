import type { InputFile } from "../../src/files/input.ts";
import { openTable } from "../../src/files/table.ts";
import type { TableReading } from "../../src/files/table-reading.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { BenchSheetBuilder } from "../../src/sheets/bench-sheet-builder.ts";
import { readLongSheet } from "../../src/sheets/bench-sheet-long.ts";
import { matchColumns } from "../../src/sheets/columns.ts";
import { FACT_COLUMN_NAMES } from "../../src/sheets/row-facts.ts";

/** Everything that reading a long sheet gave, as a value that tests can compare. */
export interface LongSheet {
  readonly rows: readonly (readonly unknown[])[];
  readonly samples: readonly string[];
  readonly refused: readonly (readonly unknown[])[];
  readonly findings: readonly unknown[];
  readonly unreadable: boolean;
  readonly isBroken: boolean;
  readonly rowCount: number;
  readonly sha256: string;
  /** Rows that went the quick way. */
  readonly quick: number;
}

/**
 * Reads a long bench sheet.
 *
 * @param way "records": every row is cut by the reader of records and csv-parse; "quick": plain rows from bytes
 */
export async function readLong(
  input: InputFile,
  way: "quick" | "records",
  encoding?: string,
): Promise<LongSheet> {
  const findings = new FindingCollector();
  const builder = new BenchSheetBuilder(findings);
  const table = await openTable(input, { encoding }, findings);
  builder.table.startFile(table.place);
  const rules = {
    known: ["sample_id", "taxon", "count", ...FACT_COLUMN_NAMES],
    required: ["sample_id", "taxon", "count"],
    extra: "ignored" as const,
  };
  const columns = matchColumns(table, rules, findings);
  let rowCount = 0;
  let quick = 0;
  if (columns.isUsable) {
    const asked: TableReading = {
      place: table.place,
      header: table.header,
      headerLine: table.headerLine,
      ahead: table.ahead,
      isBroken: false,
      digest: table.digest,
      batches: (taker) =>
        table.batches(
          taker === undefined || way === "records"
            ? undefined
            : {
                takeLines: (block) => {
                  const taken = taker.takeLines(block);
                  quick += taken.lines;
                  return taken;
                },
              },
        ),
    };
    rowCount = await readLongSheet(asked, columns, builder);
  }
  const rows = Array.from({ length: builder.table.size }, (_, row) => [
    builder.table.samples.textOf(builder.table.sampleAt(row)),
    builder.table.names.textOf(builder.table.nameAt(row)),
    builder.table.countAt(row),
    builder.table.stageAt(row),
    builder.table.flagsAt(row),
    builder.table.lineAt(row),
    builder.table.columnAt(row),
    builder.table.rareAt(row),
  ]);
  return {
    rows,
    samples: builder.table.samples.texts,
    refused: [...builder.refused],
    findings: findings.all,
    unreadable: builder.unreadable,
    isBroken: table.isBroken,
    rowCount,
    sha256: (await table.digest()).sha256,
    quick,
  };
}
