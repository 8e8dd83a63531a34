import { withoutGuard } from "../files/formula-guard.ts";
import { saysText, textIn } from "../files/text/byte-text.ts";
import type { Dictionary } from "../model/dictionary.ts";
import { CellNumbers } from "../sheets/cell-numbers.ts";

const APOSTROPHE = 39;

/** Which sample of a run a cell of rows.csv means. Rows lie sample by sample, in the order of the run. */
export class StoredSampleCells {
  readonly #samples: Dictionary;
  readonly #cells = new CellNumbers();
  /** Numbers of the samples by number of the cell. */
  readonly #numbers: number[] = [];
  #last = -1;
  /** The highest number of a sample that was met; what lies beyond has no row so far. */
  #highest = -1;

  /** @param samples every sample of the run */
  constructor(samples: Dictionary) {
    this.#samples = samples;
  }

  /** The number of a sample by the bytes of its cell; -1 where the run has none of this id. */
  numberIn(bytes: Uint8Array, from: number, to: number): number {
    if (!this.#cells.is(this.#last, bytes, from, to)) {
      const isNext = this.#isNext(bytes, from, to);
      let cell = isNext ? -1 : this.#cells.find(bytes, from, to);
      if (cell < 0) {
        const number = isNext ? this.#highest + 1 : this.numberOf(textIn(bytes, from, to));
        if (number < 0) return -1;
        this.#highest = Math.max(this.#highest, number);
        cell = this.#cells.add(bytes, from, to);
        if (cell < 0) return number;
        this.#numbers[cell] = number;
      }
      this.#last = cell;
    }
    return this.#numbers[this.#last] as number;
  }

  /** The same by the text of the cell. */
  numberOf(cell: string): number {
    return this.#samples.numberOf(withoutGuard(cell)) ?? -1;
  }

  /** Whether a cell is the id of the sample behind the last one met, as it is nearly always when another begins. */
  #isNext(bytes: Uint8Array, from: number, to: number): boolean {
    const next = this.#highest + 1;
    const samples = this.#samples;
    // An apostrophe may be a guard.
    return (
      next < samples.size && bytes[from] !== APOSTROPHE && saysText(bytes, from, to, samples.textOf(next))
    );
  }
}
