import type { HeaderCell, TableReading } from "../files/table-reading.ts";
import { quoted } from "../files/visible-text.ts";
import { finding } from "../findings/finding.ts";
import type { BenchSheetBuilder } from "./bench-sheet-builder.ts";
import { cleanCell, isUnusable } from "./cell-text.ts";
import { columnKey } from "./column-key.ts";
import { FACT_COLUMN_NAMES } from "./row-facts.ts";

/** Columns of cross-tab sheets that are no samples, by their keys. */
const NO_SAMPLES: ReadonlySet<string> = new Set(
  (
    "rank taxon_rank kingdom phylum subphylum superclass class subclass infraclass superorder order suborder " +
    "infraorder superfamily family subfamily tribe genus subgenus species subspecies author authority " +
    "common_name common_names common_group group major_group vernacular_name scientific_name accepted_name " +
    "full_name taxon_id taxon_code taxon_number code tsn id row number no no. line " +
    "total totals sum grand_total total_count row_total mean average min max frequency occurrences " +
    "tolerance tolerance_value tv ptv ffg feeding_group functional_feeding_group habit habitat trait " +
    "remark remarks comment comments notes source reference references"
  ).split(" "),
);

/** The columns of a cross-tab sheet. */
export interface CrossTabColumns {
  /** 0-based number of the cell with the taxon. */
  readonly taxonAt: number;
  /** Columns with facts of the row: name to 0-based number of the cell. */
  readonly factsAt: ReadonlyMap<string, number>;
  readonly samples: readonly { readonly sampleId: string; readonly at: number }[];
  readonly nameless: readonly HeaderCell[];
}

/** Tells the sample columns of a cross-tab sheet from the others; undefined when rows cannot be read. */
export function crossTabColumns(
  table: TableReading,
  builder: BenchSheetBuilder,
): CrossTabColumns | undefined {
  const factsAt = new Map<string, number>();
  const samples: { sampleId: string; at: number }[] = [];
  const nameless: HeaderCell[] = [];
  const seen = new Map<string, HeaderCell>();
  const leftOut: HeaderCell[] = [];
  let taxonAt = -1;
  let isUsable = true;
  for (const cell of table.header) {
    const place = { file: table.place, line: table.headerLine, column: cell.column };
    if (cell.text === "") {
      nameless.push(cell);
      continue;
    }
    const key = columnKey(cell.text);
    const isFact = FACT_COLUMN_NAMES.includes(key);
    if (!isFact && key !== "taxon" && NO_SAMPLES.has(key)) {
      leftOut.push(cell);
      continue;
    }
    const clean = cleanCell(cell.raw);
    const { text, fault } = clean;
    if (fault !== undefined && isUnusable(clean)) {
      builder.fail(place, { ...fault, message: `header ${fault.message}` });
      isUsable = false;
      continue;
    }
    const identity = isFact || key === "taxon" ? key : `sample ${text}`;
    const twin = seen.get(identity);
    if (twin !== undefined) {
      builder.fail(place, {
        code: "duplicate-header",
        message: `fields ${twin.column} and ${cell.column} are both called ${quoted(cell.text)}`,
      });
      isUsable = false;
      continue;
    }
    seen.set(identity, cell);
    if (key === "taxon") taxonAt = cell.column - 1;
    else if (isFact) factsAt.set(key, cell.column - 1);
    else samples.push({ sampleId: text, at: cell.column - 1 });
  }
  for (const cell of leftOut) {
    builder.findings.add(
      finding(
        "left-out-column",
        { file: table.place, line: table.headerLine, column: cell.column },
        { message: `the column ${quoted(cell.text)} is no sample and was left out` },
      ),
    );
  }
  if (samples.length === 0 && isUsable) {
    builder.fail(
      { file: table.place, line: table.headerLine, column: 0 },
      {
        code: "missing-column",
        message: "there is a column for the taxon and none for a sample",
        hint: "a long sheet has sample_id, taxon and count; a cross-tab sheet has taxon and a column for each sample",
      },
    );
    isUsable = false;
  }
  return isUsable ? { taxonAt, factsAt, samples, nameless } : undefined;
}
