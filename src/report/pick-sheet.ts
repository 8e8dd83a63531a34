import type { StopRule } from "../subsample/stop-rule.ts";
import { enoughAnimals } from "../subsample/stop-rule.ts";
import type { Tray } from "../subsample/tray.ts";
import { gridsOnTray } from "../subsample/tray.ts";

/** What goes to the tray for one sample. */
export interface PickSheet {
  readonly sampleId: string;
  /** Label and value of what the log knows: site, date, jars. */
  readonly facts: readonly (readonly [string, string])[];
  readonly tray: Tray;
  /** Numbers of the grids in the order in which they are picked. */
  readonly order: readonly number[];
  /** The tray onto which grids go that are too dense, with its own order. */
  readonly second: { readonly tray: Tray; readonly order: readonly number[] };
  readonly rule: StopRule;
  readonly seed: string;
  readonly algorithm: string;
  /** What must be settled before the sample is spread. */
  readonly warning?: string | undefined;
}

/** What the sorter keeps to, one sentence or two each, in the order in which they matter at the tray. */
export function pickRules({ tray, rule }: PickSheet): string[] {
  const { target, lower, upper } = rule.range;
  const least = Math.min(rule.atLeast, gridsOnTray(tray));
  const range = lower === upper ? `${target}` : `${target}, ${lower} to ${upper} are within range`;
  return [
    `Spread the sample evenly over the ${tray.rows} rows of ${tray.columns} grids. They are numbered row by row from the top left corner.`,
    "Pick the grids in the order below, one by one, every animal of each. Write down every grid, also one with 0.",
    EDGE_RULE,
    `Pick at least ${least} ${least === 1 ? "grid" : "grids"}. Then stop at the end of the first grid with which ${enoughAnimals(rule)} animals are reached (target ${range}).`,
    rule.lastGrid === "split"
      ? `More than ${upper} with the last grid: put its animals back, spread that grid again on a tray and pick its parts at random until the count is in range; write the share picked (such as 10/30) as its portion. More than ${upper} already without it: put all back, spread the contents of these grids together on the second tray and pick that by its own order.`
      : `The last grid is picked to its end, also when the count goes over ${upper}.`,
    `Everything sorted and still fewer than ${lower}: the sample is finished as it is.`,
    "Vertebrates, empty shells, empty cases and cast skins do not count; crayfish do.",
  ];
}

/** An animal on a line between grids; common practice of gridded trays, no source. */
export const EDGE_RULE =
  "An animal on a line belongs to the grid that holds its head, or most of its body when the head cannot be told.";

/** What can hurt people or protected animals at the tray. */
export const TRAY_CAUTIONS: readonly string[] = [
  "Ethanol burns and its vapour catches fire: work with ventilation, away from flames and sparks. Formalin harms eyes, skin and lungs: rinse such samples outdoors or under a hood. Gloves and eye protection; follow the safety data sheets and the local code.",
  "Live mussels and other protected animals go back to the stream at once: recorded, not counted, and only handled under a permit.",
];

/** A piece of a wide tray that fits across a page: columns from and to, counted from 1. */
export interface TrayBand {
  readonly from: number;
  readonly to: number;
}

/** Cuts a tray into pieces of at most so many columns, as equal as possible. */
export function trayBands({ columns }: Tray, most: number): TrayBand[] {
  const bands = Math.ceil(columns / most);
  return Array.from({ length: bands }, (_, at) => ({
    from: Math.floor((at * columns) / bands) + 1,
    to: Math.floor(((at + 1) * columns) / bands),
  }));
}

/** Number of the grid at a place of the tray; rows and columns count from 1. */
export function gridAt({ columns }: Tray, row: number, column: number): number {
  return (row - 1) * columns + column;
}
