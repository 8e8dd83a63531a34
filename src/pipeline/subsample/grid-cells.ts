import { ROW_FLAGS } from "../../model/rows.ts";
import type { SheetGrid } from "../../subsample/grid-sheet.ts";
import type { Pile } from "../sample-piles.ts";
import type { SampleWithPiles } from "./walk-samples.ts";

/** What the rows of one pile in one grid say beside their counts. */
export interface CellFacts {
  readonly distinct: Pile["distinct"];
  readonly numberOfTaxa: number;
}

/** The piles of a sample told apart by grid. */
export interface GridCells {
  /** Every grid that a row of the main part names, with the animals of each main pile. */
  readonly grids: readonly SheetGrid[];
  /** A row with animals that count and without a grid; undefined when there is none. */
  readonly withoutGrid: number | undefined;
  /** The first row that names each grid. */
  readonly firstRows: ReadonlyMap<string, number>;
  /** @param pile position among the main piles */
  readonly factsOf: (grid: string, pile: number) => CellFacts;
}

/** Gathers the rows of the main part by grid. Rows of the large/rare search lie outside of the grids. */
export function gatherCells({ own, main, rows: { table } }: SampleWithPiles): GridCells {
  const counts = new Map<string, number[]>();
  const firstRows = new Map<string, number>();
  const cellRows = new Map<string, number[][]>();
  let withoutGrid: number | undefined;
  for (const row of own) {
    const grid = table.rareAt(row)?.grid ?? "";
    if (grid === "" || (table.flagsAt(row) & ROW_FLAGS.largeRare) !== 0 || counts.has(grid)) continue;
    counts.set(grid, new Array<number>(main.length).fill(0));
    firstRows.set(grid, row);
    cellRows.set(
      grid,
      main.map(() => []),
    );
  }
  for (const [at, pile] of main.entries())
    for (const row of pile.rows) {
      const grid = table.rareAt(row)?.grid ?? "";
      const here = counts.get(grid);
      if (here === undefined) {
        if (table.countAt(row) > 0) withoutGrid = Math.min(withoutGrid ?? row, row);
        continue;
      }
      here[at] = (here[at] as number) + table.countAt(row);
      cellRows.get(grid)?.[at]?.push(row);
    }
  return {
    grids: [...counts].map(([grid, animals]) => ({ grid, counts: animals })),
    withoutGrid,
    firstRows,
    factsOf: (grid, pile) => {
      const cell = cellRows.get(grid)?.[pile] ?? [];
      const words = cell.map((row) => distinctOf(table.flagsAt(row)));
      const numberOfTaxa = Math.max(1, ...cell.map((row) => table.rareAt(row)?.numberOfTaxa ?? 1));
      // As for whole piles: kept out of richness only where every row says so.
      const isNo = words.length > 0 && words.every((word) => word === "no");
      return { distinct: words.includes("yes") ? "yes" : isNo ? "no" : "", numberOfTaxa };
    },
  };
}

function distinctOf(flags: number): Pile["distinct"] {
  if ((flags & ROW_FLAGS.distinctYes) !== 0) return "yes";
  return (flags & ROW_FLAGS.distinctNo) !== 0 ? "no" : "";
}
