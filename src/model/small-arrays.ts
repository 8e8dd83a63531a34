/** Bytes of memory that pieces are cut from. */
const BLOCK_BYTES = 1 << 16;

/**
 * Cuts arrays of numbers, all 0, from larger pieces of memory. An array with memory of its own costs some ten times
 * as much, and three of them for every sample and metric were a tenth of all the time of scoring. A block lives as
 * long as one of its arrays: this is for arrays of which many come and go together.
 */
class Cutter<Numbers> {
  readonly #kind: NumbersClass<Numbers>;
  #block = new ArrayBuffer(0);
  #used = 0;

  constructor(kind: NumbersClass<Numbers>) {
    this.#kind = kind;
  }

  cut(length: number): Numbers {
    const bytes = length * this.#kind.BYTES_PER_ELEMENT;
    if (this.#used + bytes > this.#block.byteLength) {
      this.#block = new ArrayBuffer(Math.max(bytes, BLOCK_BYTES));
      this.#used = 0;
    }
    const numbers = new this.#kind(this.#block, this.#used, length);
    this.#used += bytes;
    return numbers;
  }
}

interface NumbersClass<Numbers> {
  readonly BYTES_PER_ELEMENT: number;
  new (block: ArrayBuffer, offset: number, length: number): Numbers;
}

const INT32 = new Cutter<Int32Array<ArrayBuffer>>(Int32Array);
const FLOAT64 = new Cutter<Float64Array<ArrayBuffer>>(Float64Array);

/** A short Int32Array of zeros, one of many. Its `buffer` is shared with others. */
export function smallInt32Array(length: number): Int32Array<ArrayBuffer> {
  return INT32.cut(length);
}

/** A short Float64Array of zeros, one of many. Its `buffer` is shared with others. */
export function smallFloat64Array(length: number): Float64Array<ArrayBuffer> {
  return FLOAT64.cut(length);
}
