import type { FactTexts, SampleFacts } from "../model/sample-facts.ts";

/** What the rows of a log have in common. */
export interface LogForm {
  /** The name of each column that is kept, each once. */
  readonly names: readonly string[];
  /** 1-based field number of each column. */
  readonly fields: ReadonlyMap<string, number>;
  /** How findings name the log. */
  readonly file: string;
}

/**
 * The rows of a log, all texts in one list: a map for each row would take more memory than all counts of its
 * sample.
 */
export class LogRows {
  readonly names: readonly string[];
  readonly fields: ReadonlyMap<string, number>;
  readonly file: string;
  /** Row by row, in the order of the names; empty where the cell is. */
  readonly texts: string[] = [];
  readonly #at: ReadonlyMap<string, number>;

  constructor({ names, fields, file }: LogForm) {
    this.names = names;
    this.fields = fields;
    this.file = file;
    this.#at = new Map(names.map((name, at) => [name, at]));
  }

  /**
   * Adds a row.
   *
   * @param texts of each name, empty where the cell is
   */
  add(sampleId: string, texts: readonly string[], line: number): SampleFacts {
    const row = new LogRow(this, this.texts.length, sampleId, line);
    for (const text of texts) this.texts.push(text);
    return row;
  }

  /** The place of a column among the names; undefined when the log does not have it. */
  at(name: string): number | undefined {
    return this.#at.get(name);
  }
}

/** One row: the facts of a sample, and their texts by column. */
class LogRow implements SampleFacts, FactTexts {
  readonly sampleId: string;
  readonly line: number;
  readonly #rows: LogRows;
  /** Where its texts begin. */
  readonly #start: number;

  constructor(rows: LogRows, start: number, sampleId: string, line: number) {
    this.#rows = rows;
    this.#start = start;
    this.sampleId = sampleId;
    this.line = line;
  }

  get texts(): FactTexts {
    return this;
  }

  get file(): string {
    return this.#rows.file;
  }

  get columns(): ReadonlyMap<string, number> {
    return this.#rows.fields;
  }

  get(column: string): string | undefined {
    const at = this.#rows.at(column);
    return at === undefined ? undefined : this.#rows.texts[this.#start + at] || undefined;
  }

  has(column: string): boolean {
    return this.get(column) !== undefined;
  }

  *keys(): Generator<string> {
    for (const [column] of this) yield column;
  }

  *[Symbol.iterator](): Generator<readonly [string, string]> {
    for (const name of this.#rows.names) {
      const text = this.get(name);
      if (text !== undefined) yield [name, text];
    }
  }
}
