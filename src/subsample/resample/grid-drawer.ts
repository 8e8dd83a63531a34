import type { PilesInRow } from "../animal-row.ts";
import { AnimalRow } from "../animal-row.ts";
import { totalAnimals } from "../piles.ts";
import type { FixedCountDrawer } from "./jar-drawer.ts";
import type { WordBlocks } from "./word-block.ts";

/**
 * Draws of a fixed count from a tray: whole grids are picked at random, and of their animals `n`.
 *
 * The tray is made of the grids picked, by the share of them: with G grids on it for g picked, each stands there
 * floor(G / g) times, and G modulo g of them, chosen at random for every draw, once more (the pseudo-population
 * of Booth, Butler & Hall 1994, with grids for animals). Where the grids of a draw hold fewer than `n` animals,
 * all of them are taken.
 */
export class GridDrawer implements FixedCountDrawer {
  readonly #words: WordBlocks;
  /** For each grid the pile of each of its animals. */
  readonly #grids: readonly PilesInRow[];
  readonly #n: number;
  readonly #row: Int32Array;
  readonly #remainder: number;
  readonly #endless: boolean;
  /** 1 for grids that are in the draw at hand. */
  readonly #met: Uint8Array;
  /** The pile of each animal of the grids at hand. */
  #pool: Int32Array;

  /**
   * @param grids animals of each pile in each grid that was picked; grids without animals too
   * @param n animals of a draw
   * @param onTray grids on the tray, not fewer than were picked; undefined for an endless tray
   * @throws RangeError for a tray with fewer grids
   */
  constructor(grids: readonly Int32Array[], n: number, onTray: number | undefined, words: WordBlocks) {
    const picked = grids.length;
    if (onTray !== undefined && (!Number.isSafeInteger(onTray) || onTray < picked))
      throw new RangeError(`a tray of ${onTray} grids does not hold the ${picked} that were picked`);
    this.#words = words;
    this.#n = n;
    this.#endless = onTray === undefined;
    this.#met = new Uint8Array(picked);
    const copies = onTray === undefined ? 1 : Math.floor(onTray / Math.max(picked, 1));
    this.#remainder = onTray === undefined ? 0 : onTray - copies * picked;
    const length = picked * (copies + (this.#remainder > 0 ? 1 : 0));
    // From `copies` times `picked` on stand the additional copies.
    this.#row = Int32Array.from({ length }, (_, at) => at);
    this.#grids = grids.map((counts) => {
      const row = new AnimalRow(counts.length, totalAnimals(counts));
      row.layOut(counts);
      return row.piles.subarray(0, row.length);
    });
    this.#pool = new Int32Array(Math.max(16, ...this.#grids.map((animals) => animals.length)));
    const total = this.#grids.reduce((sum, animals) => sum + animals.length, 0);
    this.varies = n > 0 && (onTray === undefined || onTray > picked || total > n);
  }

  readonly varies: boolean;

  draw(left: Int32Array): number {
    left.fill(0);
    this.#met.fill(0);
    const pooled = this.#pickGrids();
    const pool = this.#pool;
    const words = this.#words;
    const drawn = Math.min(this.#n, pooled);
    const isAll = drawn === pooled;
    for (let animal = 0; animal < drawn; animal++) {
      const other = isAll ? animal : animal + words.below(pooled - animal);
      const pile = pool[other] as number;
      // The animal that was passed moves into the place of the one taken; nothing looks at places passed.
      pool[other] = pool[animal] as number;
      left[pile] = (left[pile] as number) + 1;
    }
    return this.#different();
  }

  #different(): number {
    let different = 0;
    for (let grid = 0; grid < this.#met.length; grid++) different += this.#met[grid] as number;
    return different;
  }

  /** Animals of as many grids as were picked. */
  #pickGrids(): number {
    const picked = this.#grids.length;
    const row = this.#row;
    const whole = row.length - (this.#remainder > 0 ? picked : 0);
    let pooled = 0;
    let undecided = picked;
    let open = this.#remainder;
    for (let place = 0, taken = 0; taken < picked; place++) {
      if (this.#endless) {
        pooled = this.#addGrid(this.#words.below(picked), pooled);
        taken++;
        continue;
      }
      const other = place + this.#words.below(row.length - place);
      const found = row[other] as number;
      row[other] = row[place] as number;
      row[place] = found;
      if (found >= whole) {
        if (this.#words.below(undecided--) >= open) continue;
        open--;
      }
      pooled = this.#addGrid(found % picked, pooled);
      taken++;
    }
    return pooled;
  }

  #addGrid(grid: number, from: number): number {
    const animals = this.#grids[grid] as PilesInRow;
    this.#met[grid] = 1;
    const end = from + animals.length;
    if (end > this.#pool.length) this.#growPool(end);
    const pool = this.#pool;
    for (let animal = 0; animal < animals.length; animal++) pool[from + animal] = animals[animal] as number;
    return end;
  }

  #growPool(least: number): void {
    const larger = new Int32Array(Math.max(this.#pool.length * 2, least));
    larger.set(this.#pool);
    this.#pool = larger;
  }
}
