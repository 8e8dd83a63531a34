import type { Algorithm } from "./algorithms.ts";
import { GRID_ORDER_ALGORITHMS, selectAlgorithm } from "./algorithms.ts";
import type { gridOrder } from "./grid-order.ts";
import { splitGridPurpose, trayPurpose } from "./grid-order.ts";
import type { TrayShapes } from "./pick-log.ts";
import { randomStream } from "./stream.ts";
import type { Tray } from "./tray.ts";
import { gridsOnTray } from "./tray.ts";

/** The trays of one sample with the random orders of their grids. */
export interface SampleTrays extends TrayShapes {
  readonly trayOf: (level: number) => Tray;
  /** The order in which the parts of a split grid are picked, when it is spread on a tray of this shape. */
  readonly orderOfParts: (level: number, grid: number, tray: Tray) => readonly number[];
  /** Id of the algorithm that made the orders. */
  readonly algorithm: string;
}

/**
 * The trays of a sample: the same seed and sample id give the same orders for ever, whatever else is in the
 * batch. Orders are made when they are asked for.
 *
 * @param trays shapes of the trays, the first tray first; the last one stands for all that follow
 * @param algorithm id of one of `GRID_ORDER_ALGORITHMS`; the newest when left out
 * @throws RangeError for no tray at all and an unknown algorithm
 */
export function sampleTrays(
  trays: readonly Tray[],
  seed: string,
  sampleId: string,
  algorithm?: string,
): SampleTrays {
  const chosen: Algorithm<typeof gridOrder> = selectAlgorithm(GRID_ORDER_ALGORITHMS, algorithm);
  const orders = new Map<number, readonly number[]>();
  const trayOf = (level: number): Tray => {
    const tray = trays[Math.min(level, trays.length) - 1];
    if (tray === undefined) throw new RangeError(`there is no tray ${level}`);
    return tray;
  };
  const make = (tray: Tray, purpose: string | undefined) =>
    chosen.run(tray, randomStream(chosen.id, seed, sampleId, purpose));
  return {
    algorithm: chosen.id,
    trayOf,
    gridsOnTray: (level) => gridsOnTray(trayOf(level)),
    orderOf: (level) => {
      const order = orders.get(level) ?? make(trayOf(level), trayPurpose(level));
      orders.set(level, order);
      return order;
    },
    orderOfParts: (level, grid, tray) => make(tray, splitGridPurpose(level, grid)),
  };
}
