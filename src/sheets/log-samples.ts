import { at } from "../model/at.ts";
import { Dictionary } from "../model/dictionary.ts";
import type { SampleFacts } from "../model/sample-facts.ts";

/** The rows of a log by sample id, in its order. */
export class LogSamples implements ReadonlyMap<string, SampleFacts> {
  readonly #ids = new Dictionary();
  readonly #rows: SampleFacts[] = [];

  get size(): number {
    return this.#rows.length;
  }

  /** Sample ids in the order of the log. */
  get order(): readonly string[] {
    return this.#ids.texts;
  }

  /** Adds a row; false, with nothing added, when its sample has one already. */
  add(facts: SampleFacts): boolean {
    if (this.#ids.add(facts.sampleId) < this.#rows.length) return false;
    this.#rows.push(facts);
    return true;
  }

  get(sampleId: string): SampleFacts | undefined {
    const number = this.#ids.numberOf(sampleId);
    return number === undefined ? undefined : at(this.#rows, number);
  }

  has(sampleId: string): boolean {
    return this.#ids.numberOf(sampleId) !== undefined;
  }

  forEach(
    callback: (facts: SampleFacts, sampleId: string, map: ReadonlyMap<string, SampleFacts>) => void,
  ): void {
    for (const [sampleId, facts] of this) callback(facts, sampleId, this);
  }

  keys(): MapIterator<string> {
    return this.#ids.texts.values();
  }

  values(): MapIterator<SampleFacts> {
    return this.#rows.values();
  }

  *entries(): MapIterator<[string, SampleFacts]> {
    for (let row = 0; row < this.#rows.length; row++) yield [at(this.#ids.texts, row), at(this.#rows, row)];
  }

  [Symbol.iterator](): MapIterator<[string, SampleFacts]> {
    return this.entries();
  }
}
