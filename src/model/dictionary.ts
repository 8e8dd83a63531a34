import { at } from "./at.ts";

/**
 * Texts numbered in the order in which they first appear.
 *
 * Sample ids mostly come in ascending order, and then a text beyond the last one is new: it need not be looked up,
 * and one that is looked up is found by halving. Only texts in another order need a map.
 */
export class Dictionary {
  readonly #texts: string[] = [];
  /** Made when the first text comes that is not beyond the last one. */
  #numbers: Map<string, number> | undefined;

  /** The number of a text, a new one when it is met for the first time. */
  add(text: string): number {
    const { length } = this.#texts;
    if (this.#numbers === undefined && (length === 0 || text > at(this.#texts, length - 1))) {
      this.#texts.push(text);
      return length;
    }
    const known = this.numberOf(text);
    if (known !== undefined) return known;
    this.#numbers ??= new Map(this.#texts.map((one, number) => [one, number]));
    this.#numbers.set(text, length);
    this.#texts.push(text);
    return length;
  }

  /** The number of a text already met. */
  numberOf(text: string): number | undefined {
    if (this.#numbers !== undefined) return this.#numbers.get(text);
    let from = 0;
    let to = this.#texts.length;
    while (from < to) {
      const middle = (from + to) >> 1;
      if (at(this.#texts, middle) < text) from = middle + 1;
      else to = middle;
    }
    return this.#texts[from] === text ? from : undefined;
  }

  /** @throws RangeError for a number that was never given out */
  textOf(number: number): string {
    const text = this.#texts[number];
    if (text === undefined) throw new RangeError(`no text has the number ${number}`);
    return text;
  }

  get size(): number {
    return this.#texts.length;
  }

  get texts(): readonly string[] {
    return this.#texts;
  }
}
