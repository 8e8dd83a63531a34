/** The shape of a gridded tray; its grids are numbered row by row from 1, from the top left corner. */
export interface Tray {
  readonly rows: number;
  readonly columns: number;
}

/** More grids than this are a slip of the keyboard. */
export const LARGEST_TRAY = 10_000;

/** Where a grid lies on its tray; rows and columns count from 1. */
export interface GridPlace {
  readonly row: number;
  readonly column: number;
}

/**
 * Reads a tray as people write it: `5x6`, `5 x 6`, `5×6` are 5 rows of 6 grids.
 *
 * @returns undefined when the text is no tray of 1 to 10,000 grids
 */
export function parseTray(text: string): Tray | undefined {
  const match = /^([1-9][0-9]{0,4}) ?[xX×] ?([1-9][0-9]{0,4})$/.exec(text.trim());
  if (match === null) return undefined;
  const tray = { rows: Number(match[1]), columns: Number(match[2]) };
  return tray.rows * tray.columns <= LARGEST_TRAY ? tray : undefined;
}

/**
 * How many grids a tray has.
 *
 * @throws RangeError for a tray that is none
 */
export function gridsOnTray(tray: Tray): number {
  const grids = tray.rows * tray.columns;
  const whole = Number.isSafeInteger(tray.rows) && Number.isSafeInteger(tray.columns);
  if (!whole || tray.rows < 1 || tray.columns < 1 || grids > LARGEST_TRAY)
    throw new RangeError(`a tray cannot have ${tray.rows} rows of ${tray.columns} grids`);
  return grids;
}

/**
 * Where the grid with this number lies.
 *
 * @throws RangeError when the tray has no such grid
 */
export function placeOfGrid(tray: Tray, grid: number): GridPlace {
  if (!Number.isSafeInteger(grid) || grid < 1 || grid > gridsOnTray(tray))
    throw new RangeError(`a tray of ${tray.rows} x ${tray.columns} has no grid ${grid}`);
  return { row: Math.floor((grid - 1) / tray.columns) + 1, column: ((grid - 1) % tray.columns) + 1 };
}
