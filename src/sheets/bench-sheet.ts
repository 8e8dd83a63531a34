import type { FileDigest } from "../files/digest.ts";
import type { InputFile } from "../files/input.ts";
import { openTable } from "../files/table.ts";
import type { TableReading } from "../files/table-reading.ts";
import type { FindingSink } from "../findings/collector.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { RowTable } from "../model/rows.ts";
import { BenchSheetBuilder } from "./bench-sheet-builder.ts";
import { readCrossTab } from "./bench-sheet-cross-tab.ts";
import { readLongSheet } from "./bench-sheet-long.ts";
import { columnKey } from "./column-key.ts";
import { matchColumns } from "./columns.ts";
import { findLookAlikeSamples } from "./look-alike-samples.ts";
import { findRepeatedSheets } from "./repeated-rows.ts";
import { reportRepeatedTaxa } from "./repeated-taxa.ts";
import { FACT_COLUMN_NAMES } from "./row-facts.ts";
import { seenKind } from "./table-kind.ts";

/** A file that was read, with the number of its rows. */
export interface ReadFile extends FileDigest {
  /** Rows below the header that are not blank. */
  readonly rows: number;
}

/** All bench sheets of a batch. */
export interface BenchSheets {
  readonly table: RowTable;
  /** Samples that may not be scored because one of their rows has a fault, with the codes of the faults. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  /** True when a fault could hide rows of any sample: the whole run is refused. */
  readonly unreadable: boolean;
  /** The files in the order in which they were given. */
  readonly digests: readonly ReadFile[];
}

/** How sheets are read. */
export interface SheetOptions {
  /** The encoding of text files without a byte order mark; UTF-8 when left out. */
  readonly encoding?: string | undefined;
}

const LONG_COLUMNS = ["sample_id", "taxon", "count", ...FACT_COLUMN_NAMES];

/**
 * Reads the bench sheets of a batch into one table, long and cross-tab in any mixture. Every fault is reported;
 * a fault in a row refuses its sample, a fault that could hide rows of any sample makes the batch `unreadable`.
 *
 * @throws FileError when a file cannot be read any more
 */
export async function readBenchSheets(
  inputs: readonly InputFile[],
  options: SheetOptions,
  findings: FindingSink,
): Promise<BenchSheets> {
  const builder = new BenchSheetBuilder(findings);
  const digests: ReadFile[] = [];
  const leftOut: string[] = [];
  for (const input of inputs) {
    const table = await openTable(input, options, findings);
    if (input.isFound === true && leavesOut(table, findings)) {
      leftOut.push(table.place);
      await table.digest(); // so that the file is closed
      continue;
    }
    builder.table.startFile(table.place);
    const rows = await readSheet(table, builder);
    if (table.isBroken) builder.unreadable = true;
    digests.push({ ...(await table.digest()), rows });
  }
  if (digests.length === 0) {
    for (const place of leftOut) {
      const message = "the folder given for bench sheets holds none";
      findings.add(finding("wrong-table", wholeFile(place), { message }));
    }
    builder.unreadable = true;
  }
  const repeated = findRepeatedSheets(builder.table);
  for (const { place, fault, sampleId } of [...repeated, ...findLookAlikeSamples(builder.table)])
    builder.fault(place, fault, sampleId);
  reportRepeatedTaxa(builder.table, new Set(repeated.map(({ sampleId }) => sampleId)), findings);
  return { table: builder.table, refused: builder.refused, unreadable: builder.unreadable, digests };
}

/** A folder of a season holds its log and its list of names too; nobody has named them as sheets. */
function leavesOut(table: TableReading, findings: FindingSink): boolean {
  const seen = seenKind(table.header.map((cell) => columnKey(cell.text)));
  if (seen === undefined || seen.kind === "bench sheet") return false;
  const place = { file: table.place, line: table.headerLine, column: 0 };
  const message = `this looks like a ${seen.kind} (${seen.by.join(", ")}) and was left out of the bench sheets`;
  findings.add(finding("left-out-file", place, { message, hint: seen.hint }));
  return true;
}

async function readSheet(table: TableReading, builder: BenchSheetBuilder): Promise<number> {
  if (table.header.length === 0) return 0;
  const keys = table.header.map((cell) => columnKey(cell.text));
  if (keys.includes("taxon") && !keys.includes("sample_id") && !keys.includes("count"))
    return readCrossTab(table, builder);
  const columns = matchColumns(
    table,
    {
      kind: "bench sheet",
      known: LONG_COLUMNS,
      required: ["sample_id", "taxon", "count"],
      extra: "ignored",
      doubtsNearNames: true,
    },
    builder.findings,
  );
  if (columns.isUsable) return readLongSheet(table, columns, builder);
  builder.unreadable = true;
  return 0;
}
