import type { RandomStream } from "./stream.ts";
import type { Tray } from "./tray.ts";
import { gridsOnTray } from "./tray.ts";

/**
 * A random order of all grids of a tray: every order is equally likely (Durstenfeld R 1964, Algorithm 235:
 * Random permutation, Commun. ACM 7(7):420). It depends on the number of grids only, so a tray of 5 x 6 and one
 * of 6 x 5 are picked by the same numbers.
 *
 * @returns the numbers of the grids, row by row from 1, in the order in which they are to be picked
 * @throws RangeError for a tray that is none
 */
export function gridOrder(tray: Tray, stream: RandomStream): number[] {
  return shuffled(gridsOnTray(tray), stream).map((place) => place + 1);
}

/** The whole numbers from 0 to n - 1 in random order; takes n - 1 numbers from the stream. */
export function shuffled(n: number, stream: RandomStream): number[] {
  const order = Array.from({ length: n }, (_, place) => place);
  for (let at = 0; at < n - 1; at++) {
    const from = at + stream.below(n - at);
    const taken = order[from] as number;
    order[from] = order[at] as number;
    order[at] = taken;
  }
  return order;
}

/**
 * The purpose by which the streams of the trays of one sample are told apart: none for the first tray, so that
 * its order comes from algorithm, seed and sample id alone; `level-2` and so on for the trays after it.
 *
 * @param level 1 for the first tray
 */
export function trayPurpose(level: number): string | undefined {
  return level === 1 ? undefined : `level-${level}`;
}

/** The purpose of the order in which the parts of a split grid are picked. */
export function splitGridPurpose(level: number, grid: number): string {
  return `level-${level}-grid-${grid}`;
}
