import type { OutputColumn, OutputRow } from "./define.ts";

const FIRST_ROWS = 1 << 8;

/**
 * Rows of a table that are held until it is written: numbers side by side and texts in one list, since an array for
 * each row of a long table takes more memory, and the collector looks at all of them again and again. Can be gone
 * through any number of times.
 */
export class KeptRows implements Iterable<OutputRow> {
  readonly #isNumber: readonly boolean[];
  readonly #numbersOfRow: number;
  /** NaN where a cell is missing. */
  #numbers: Float64Array;
  readonly #texts: string[] = [];
  #size = 0;

  /** @param columns whose cells are numbers or missing where they are of that kind, else texts */
  constructor(columns: readonly OutputColumn[]) {
    this.#isNumber = columns.map(({ kind }) => kind === "number");
    this.#numbersOfRow = this.#isNumber.filter(Boolean).length;
    this.#numbers = new Float64Array(FIRST_ROWS * this.#numbersOfRow);
  }

  get size(): number {
    return this.#size;
  }

  /** @throws RangeError for a cell of another kind than its column */
  add(row: OutputRow): void {
    let number = this.#size * this.#numbersOfRow;
    if (number === this.#numbers.length) this.#grow();
    const numbers = this.#numbers;
    for (let column = 0; column < row.length; column++) {
      const cell = row[column];
      if (typeof cell === "string" && this.#isNumber[column] === false) this.#texts.push(cell);
      else if (typeof cell !== "string" && this.#isNumber[column] === true)
        numbers[number++] = cell ?? Number.NaN;
      else throw new RangeError(`column ${column + 1} does not hold such cells`);
    }
    this.#size++;
  }

  *[Symbol.iterator](): Generator<OutputRow> {
    let text = 0;
    let number = 0;
    for (let row = 0; row < this.#size; row++) {
      const cells: (string | number | null)[] = [];
      for (const isNumber of this.#isNumber) {
        if (!isNumber) {
          cells.push(this.#texts[text++] as string);
          continue;
        }
        const value = this.#numbers[number++] as number;
        cells.push(Number.isNaN(value) ? null : value);
      }
      yield cells;
    }
  }

  #grow(): void {
    const longer = new Float64Array(this.#numbers.length * 2);
    longer.set(this.#numbers);
    this.#numbers = longer;
  }
}
