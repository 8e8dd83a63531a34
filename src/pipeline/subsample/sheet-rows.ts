import type { Cell, OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { RowTable } from "../../model/rows.ts";
import type { DrawMethod, DrawnBlock, DrawnSample } from "./drawn-sample.ts";
import type { KeptRow } from "./kept-table.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** What the columns of the output depend on. */
export interface SheetShape {
  readonly by: DrawMethod["by"];
  /** Several draws of a sample are told apart by the column draw. */
  readonly hasDraws: boolean;
}

/** The columns of the counts that remain, a bench sheet. */
export function sheetColumns({ by, hasDraws }: SheetShape): OutputColumn[] {
  return [
    text("sample_id"),
    ...(hasDraws ? [number("draw")] : []),
    text("taxon"),
    number("count"),
    text("life_stage"),
    ...(by === "grid" ? [text("grid"), text("tray_level")] : []),
    text("part"),
    text("distinct"),
    number("number_of_taxa"),
  ];
}

/** Whether a sample has no row of a draw; one without animals keeps a row with the count 0, so that it is not lost. */
export function hasNoRow({ status }: DrawnSample): boolean {
  return status === "refused" || status === "held-back";
}

/** The rows of a block. */
export function* sheetRows(
  { samples, kept }: DrawnBlock,
  table: RowTable,
  shape: SheetShape,
): Generator<OutputRow> {
  for (const sample of samples) {
    if (hasNoRow(sample)) continue;
    if (sample.start === sample.end) yield sheetRow(sample, emptyRow(sample, table), table, shape);
    for (let row = sample.start; row < sample.end; row++)
      yield sheetRow(sample, kept.rowAt(row), table, shape);
  }
}

/** The row of a sample without animals, under the name that it has in its first row. */
export function emptyRow({ firstRow }: DrawnSample, table: RowTable): KeptRow {
  const name = table.nameAt(firstRow);
  const none = {
    stage: "unknown",
    largeRare: false,
    distinct: "",
    numberOfTaxa: 1,
    grid: "",
    trayLevel: "",
  } as const;
  return { name, count: 0, ...none };
}

export function sheetRow(sample: DrawnSample, row: KeptRow, table: RowTable, shape: SheetShape): OutputRow {
  return [...startCells(sample, shape), table.names.textOf(row.name), row.count, ...endCells(row, shape)];
}

/** The cells in front of the name. */
export function startCells({ sampleId, draw }: DrawnSample, { hasDraws }: SheetShape): readonly Cell[] {
  return hasDraws ? [sampleId, draw] : [sampleId];
}

/** The cells behind the count. */
export function endCells(
  { stage, grid, trayLevel, largeRare, distinct, numberOfTaxa }: Omit<KeptRow, "name" | "count">,
  { by }: SheetShape,
): readonly Cell[] {
  return [
    stage === "unknown" ? "" : stage,
    ...(by === "grid" ? [grid, trayLevel] : []),
    largeRare ? "large-rare" : "",
    distinct,
    numberOfTaxa === 1 ? null : numberOfTaxa,
  ];
}
