import { compareCodePoints } from "../../model/order.ts";
import type { RowTable } from "../../model/rows.ts";
import { ROW_FLAGS } from "../../model/rows.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact, fractionSorted, numericFact } from "../../model/sample-facts.ts";
import type { SamplingDesign } from "../../scoring/intervals/variance-design.ts";
import { isDrawnWithReplacement } from "../../subsample/resample/jar-drawer.ts";
import { gridsOnTray, LARGEST_TRAY, parseTray } from "../../subsample/tray.ts";
import type { DrawnPile } from "../draw-sample.ts";

/** How a sample came out of its jar, with the animals of each grid where they can be resampled by grid. */
export interface SampleDesign {
  readonly design: SamplingDesign;
  /** Animals of each pile, grid by grid; undefined where single animals are resampled. */
  readonly grids: readonly Int32Array[] | undefined;
}

/** What is known of the picking of a sample. */
export interface PickedSample {
  readonly table: RowTable;
  /** All its rows, also those of animals that do not count. */
  readonly rows: Uint32Array;
  /** Piles of the main part, in the order of the draw. */
  readonly main: readonly DrawnPile[];
  readonly facts: SampleFacts | undefined;
  readonly counted: number;
  readonly kept: number;
}

/** Works out from rows and log how the animals of a sample were picked. */
export function sampleDesign(sample: PickedSample): SampleDesign {
  const { counted, kept, facts } = sample;
  const picked = gridsOf(sample);
  const grids = picked === undefined ? 0 : gridsPicked(picked, facts);
  const onTray = picked === undefined || grids < 2 ? undefined : trayOf(facts, grids, picked.levels);
  const share = fractionSorted(facts) ?? (onTray === undefined ? undefined : grids / onTray);
  const jar = share === undefined ? undefined : Math.max(counted, Math.round(counted / share));
  const common = { jar, counted, drawn: kept };
  if (picked === undefined || grids < 2) {
    return {
      design: {
        ...common,
        kind: "animals",
        grids: 0,
        onTray: undefined,
        isWhole: jar === counted,
        isDrawnEndless: isDrawnWithReplacement(jar),
      },
      grids: undefined,
    };
  }
  const empty = Array.from({ length: grids - picked.grids.length }, () => new Int32Array(sample.main.length));
  return {
    design: {
      ...common,
      kind: "grids",
      grids,
      onTray,
      isWhole: onTray === grids,
      isDrawnEndless: onTray === undefined,
    },
    grids: [...picked.grids, ...empty],
  };
}

interface PickedGrids {
  readonly grids: readonly Int32Array[];
  /** Number of tray levels that the rows name. */
  readonly levels: number;
}

/** The animals of each grid; undefined when a row with animals of the main part names none. */
function gridsOf({ table, rows, main }: PickedSample): PickedGrids | undefined {
  const byGrid = new Map<string, Int32Array>();
  const levels = new Set<string>();
  const keyOf = (row: number): string | undefined => {
    const rare = table.rareAt(row);
    if (rare?.grid === undefined || rare.grid === "") return undefined;
    const level = rare.trayLevel ?? "";
    levels.add(level === "" ? "1" : level);
    return `${level === "" ? "1" : level}\n${rare.grid}`;
  };
  // Grids that held only animals that do not count were picked too.
  for (const row of rows) {
    if ((table.flagsAt(row) & ROW_FLAGS.largeRare) !== 0) continue;
    const key = keyOf(row);
    if (key !== undefined && !byGrid.has(key)) byGrid.set(key, new Int32Array(main.length));
  }
  if (byGrid.size === 0) return undefined;
  for (const [at, { pile }] of main.entries())
    for (const row of pile.rows) {
      const count = table.countAt(row);
      if (count === 0) continue;
      const key = keyOf(row);
      const grid = key === undefined ? undefined : byGrid.get(key);
      if (grid === undefined) return undefined;
      grid[at] = (grid[at] as number) + count;
    }
  // In one order, whatever that of the rows.
  const sorted = [...byGrid].sort(([a], [b]) => compareCodePoints(a, b));
  return { grids: sorted.map(([, grid]) => grid), levels: levels.size };
}

/** The log may give more grids than there are rows for: those held no animal. */
function gridsPicked({ grids, levels }: PickedGrids, facts: SampleFacts | undefined): number {
  const sorted = numericFact(facts, "grids_sorted");
  const isUsable = sorted !== undefined && Number.isSafeInteger(sorted) && sorted <= LARGEST_TRAY;
  return isUsable && levels === 1 ? Math.max(grids.length, sorted) : grids.length;
}

/**
 * Grids on the tray; of several trays, as many as the fraction sorted comes to. Of more than any tray has, the few
 * that were picked are as good as none: they are taken as endless.
 */
function trayOf(facts: SampleFacts | undefined, grids: number, levels: number): number | undefined {
  const tray = parseTray(fact(facts, "tray") ?? "");
  if (tray !== undefined && levels === 1) return Math.max(grids, gridsOnTray(tray));
  const share = fractionSorted(facts);
  const all = share === undefined ? undefined : Math.max(grids, Math.round(grids / share));
  return all !== undefined && all <= LARGEST_TRAY ? all : undefined;
}
