import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { RowTable } from "../../model/rows.ts";
import type { DrawMethod, DrawnSample, KeptRow } from "./drawn-sample.ts";

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

/** The rows of one draw; a sample without animals keeps a row with the count 0, so that it is not lost. */
export function sheetRows(sample: DrawnSample, table: RowTable, shape: SheetShape): OutputRow[] {
  const { status, remaining, sampleId, draw, firstRow } = sample;
  if (status === "refused" || status === "held-back") return [];
  const isPlain = shape.by === "individual" && !shape.hasDraws;
  const start = shape.hasDraws ? [sampleId, draw] : [sampleId];
  const place = (grid: string, level: string) => (shape.by === "grid" ? [grid, level] : []);
  const nameOf = (row: number) => table.names.textOf(table.nameAt(row));
  if (remaining.length === 0) return [[...start, nameOf(firstRow), 0, "", ...place("", ""), "", "", null]];
  const rows: OutputRow[] = [];
  for (let at = 0; at < remaining.length; at++) {
    const { pile, count, grid, trayLevel, distinct, numberOfTaxa } = remaining[at] as KeptRow;
    const name = nameOf(pile.rows[0] as number);
    const stage = pile.stage === "unknown" ? "" : pile.stage;
    const part = pile.largeRare ? "large-rare" : "";
    const taxa = numberOfTaxa === 1 ? null : numberOfTaxa;
    rows.push(
      isPlain
        ? // Nearly every row; lists put together of others take several times as long.
          [sampleId, name, count, stage, part, distinct, taxa]
        : [...start, name, count, stage, ...place(grid, trayLevel), part, distinct, taxa],
    );
  }
  return rows;
}
