import type { FactTexts } from "../model/sample-facts.ts";

/** The columns of a log: one list for all of its rows. */
export class LogColumns {
  readonly names: readonly string[];
  readonly #at: ReadonlyMap<string, number>;

  /** @param names each once */
  constructor(names: readonly string[]) {
    this.names = names;
    this.#at = new Map(names.map((name, at) => [name, at]));
  }

  /** The place of a column in the list; undefined when the log does not have it. */
  at(name: string): number | undefined {
    return this.#at.get(name);
  }
}

/** The texts of one row of a log. A map for every row would take more memory than all counts of its sample. */
export class LogTexts implements FactTexts {
  readonly #columns: LogColumns;
  /** In the order of the columns; empty where the cell is. */
  readonly #texts: readonly string[];

  constructor(columns: LogColumns, texts: readonly string[]) {
    this.#columns = columns;
    this.#texts = texts;
  }

  get(column: string): string | undefined {
    const at = this.#columns.at(column);
    return at === undefined ? undefined : this.#texts[at] || undefined;
  }

  has(column: string): boolean {
    return this.get(column) !== undefined;
  }

  *keys(): Generator<string> {
    for (const [column] of this) yield column;
  }

  *[Symbol.iterator](): Generator<readonly [string, string]> {
    for (const [at, text] of this.#texts.entries())
      if (text !== "") yield [this.#columns.names[at] as string, text];
  }
}
