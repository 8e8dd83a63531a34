import type { Dictionary } from "../model/dictionary.ts";
import { CellNumbers } from "./cell-numbers.ts";

/** The dictionary has no number for the text of a cell yet. */
export const NOT_YET = -1;

/**
 * Cells of a column by their bytes, with their numbers in a dictionary of the table: a text gets one when the first row
 * with it is added, and not when it is met.
 */
export class DictionaryCells {
  readonly cells = new CellNumbers();
  readonly #dictionary: Dictionary;
  readonly #texts: string[] = [];
  readonly #numbers: number[] = [];

  constructor(dictionary: Dictionary) {
    this.#dictionary = dictionary;
  }

  /** Adds a cell that is new. @returns its number among the cells, -1 when it stays without */
  add(bytes: Uint8Array, from: number, to: number, text: string): number {
    const cell = this.cells.add(bytes, from, to);
    if (cell < 0) return -1;
    this.#texts.push(text);
    this.#numbers.push(NOT_YET);
    return cell;
  }

  /** The number of a cell's text in the dictionary, or NOT_YET. */
  numberOf(cell: number): number {
    return this.#numbers[cell] as number;
  }

  /** Gives the text of a cell its number. */
  giveNumber(cell: number): number {
    const number = this.#dictionary.add(this.#texts[cell] as string);
    this.#numbers[cell] = number;
    return number;
  }
}
