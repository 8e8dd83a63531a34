import { at } from "../../model/at.ts";
import type { LifeStage } from "../../model/life-stage.ts";
import { LIFE_STAGES } from "../../model/life-stage.ts";
import { distinctOf, PILE_BITS } from "../../taxa/counted-columns.ts";
import type { Pile } from "../sample-piles.ts";

/** Animals that stay, as a row of a bench sheet. */
export interface KeptRow {
  /** Number of the name in the table of rows. */
  readonly name: number;
  readonly stage: LifeStage;
  readonly largeRare: boolean;
  readonly count: number;
  readonly distinct: Pile["distinct"];
  /** Never more than the animals that stay, but for finds of the large/rare search. */
  readonly numberOfTaxa: number;
  /** Empty where the draw is not by grid. */
  readonly grid: string;
  readonly trayLevel: string;
}

/** What a row says beside its name, its count and its grid, in one small number. */
export type KeptKind = number;

const BITS_OF_PILE = 5;
/** Kinds are below it. */
export const KEPT_KINDS = LIFE_STAGES.length << BITS_OF_PILE;

/**
 * @param stage position in LIFE_STAGES
 * @param bits of PILE_BITS
 */
export function keptKind(stage: number, bits: number): KeptKind {
  return (stage << BITS_OF_PILE) | bits;
}

const START_ROWS = 1024;

/**
 * The rows that remain of many samples, in columns: the draw of a sample leaves some thirty rows, and an object for
 * each of them takes longer than the draw.
 */
export class KeptTable {
  #names = new Int32Array(START_ROWS);
  #counts = new Float64Array(START_ROWS);
  #kinds = new Uint16Array(START_ROWS);
  #taxa = new Float64Array(START_ROWS);
  /** Grid and tray level by row; only of draws by grid. */
  readonly #places = new Map<number, readonly [grid: string, trayLevel: string]>();
  #size = 0;

  get size(): number {
    return this.#size;
  }

  clear(): void {
    this.#size = 0;
    this.#places.clear();
  }

  add(name: number, count: number, kind: KeptKind, numberOfTaxa: number): void {
    const row = this.#size++;
    if (row === this.#names.length) this.#grow();
    this.#names[row] = name;
    this.#counts[row] = count;
    this.#kinds[row] = kind;
    this.#taxa[row] = numberOfTaxa;
  }

  /** Says where the animals of the row added last lay. */
  setPlace(grid: string, trayLevel: string): void {
    this.#places.set(this.#size - 1, [grid, trayLevel]);
  }

  nameAt(row: number): number {
    return this.#names[row] as number;
  }

  countAt(row: number): number {
    return this.#counts[row] as number;
  }

  kindAt(row: number): KeptKind {
    return this.#kinds[row] as number;
  }

  numberOfTaxaAt(row: number): number {
    return this.#taxa[row] as number;
  }

  rowAt(row: number): KeptRow {
    const kind = this.kindAt(row);
    const [grid, trayLevel] = this.#places.get(row) ?? ["", ""];
    return {
      name: this.nameAt(row),
      stage: at(LIFE_STAGES, kind >>> BITS_OF_PILE),
      largeRare: (kind & PILE_BITS.find) !== 0,
      count: this.countAt(row),
      distinct: distinctOf(kind),
      numberOfTaxa: this.numberOfTaxaAt(row),
      grid,
      trayLevel,
    };
  }

  #grow(): void {
    const rows = this.#names.length * 2;
    this.#names = longer(this.#names, new Int32Array(rows));
    this.#counts = longer(this.#counts, new Float64Array(rows));
    this.#kinds = longer(this.#kinds, new Uint16Array(rows));
    this.#taxa = longer(this.#taxa, new Float64Array(rows));
  }
}

function longer<Numbers extends { set(from: ArrayLike<number>): void; readonly length: number }>(
  from: Numbers & ArrayLike<number>,
  to: Numbers,
): Numbers {
  to.set(from);
  return to;
}
