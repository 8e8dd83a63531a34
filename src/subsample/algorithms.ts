import { drawGrids } from "./draw-grids.ts";
import { drawIndividuals } from "./draw-individuals.ts";
import { gridOrder } from "./grid-order.ts";

/**
 * One version of a random procedure. Its id goes into the hash that starts the random stream and is printed
 * with every result. What a version draws never changes: a change of any kind is a new version beside the old
 * one, which stays selectable, so that a result of years ago can be drawn again.
 */
export interface Algorithm<Procedure> {
  /** Name, slash, version. */
  readonly id: string;
  readonly summary: string;
  readonly run: Procedure;
}

/** Fixed counts of single animals, oldest version first. */
export const INDIVIDUAL_ALGORITHMS: readonly Algorithm<typeof drawIndividuals>[] = [
  {
    id: "fixed-count-individual/1",
    summary:
      "Animals stand in a row by name and life stage, are put in random order, and the first ones up to the target stay.",
    run: drawIndividuals,
  },
];

/** Fixed counts by grid, oldest version first. */
export const GRID_ALGORITHMS: readonly Algorithm<typeof drawGrids>[] = [
  {
    id: "fixed-count-grid/1",
    summary:
      "Grids are put in random order and taken until the target and the least number of grids are reached.",
    run: drawGrids,
  },
];

/** Random orders of the grids of a tray, oldest version first. */
export const GRID_ORDER_ALGORITHMS: readonly Algorithm<typeof gridOrder>[] = [
  {
    id: "grid-order/1",
    summary: "All grids of a tray, numbered row by row from 1, are put in random order.",
    run: gridOrder,
  },
];

/** Every id that can be asked for. */
export const ALGORITHM_IDS: readonly string[] = [
  ...INDIVIDUAL_ALGORITHMS,
  ...GRID_ALGORITHMS,
  ...GRID_ORDER_ALGORITHMS,
].map((algorithm) => algorithm.id);

/**
 * Finds a version in one of the lists above.
 *
 * @param id the newest version when left out
 * @throws RangeError for an id that is not in the list
 */
export function selectAlgorithm<Procedure>(
  algorithms: readonly Algorithm<Procedure>[],
  id?: string,
): Algorithm<Procedure> {
  const found = id === undefined ? algorithms.at(-1) : algorithms.find((algorithm) => algorithm.id === id);
  if (found !== undefined) return found;
  const known = algorithms.map((algorithm) => algorithm.id).join(", ");
  throw new RangeError(`no algorithm of this kind is called ${id}; there is ${known}`);
}
