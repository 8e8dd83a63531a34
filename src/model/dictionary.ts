/** Texts numbered in the order in which they first appear. */
export class Dictionary {
  readonly #numbers = new Map<string, number>();
  readonly #texts: string[] = [];

  /** The number of a text, a new one when it is met for the first time. */
  add(text: string): number {
    const known = this.#numbers.get(text);
    if (known !== undefined) return known;
    const number = this.#texts.length;
    this.#numbers.set(text, number);
    this.#texts.push(text);
    return number;
  }

  /** The number of a text already met. */
  numberOf(text: string): number | undefined {
    return this.#numbers.get(text);
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
