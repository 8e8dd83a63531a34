import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import type { ExchangeRun, ExchangeSample } from "./exchange-sample.ts";

/** One table of an exchange format. */
export interface ExchangeTable {
  /** Name of its file. */
  readonly file: string;
  readonly columns: readonly OutputColumn[];
}

/** What an exchange format has to say to the person who exports: what is missing, what was shortened. */
export interface ExchangeNotes {
  /** Counts one sample, or one cell, of which the text holds; the text goes on from "3 samples". */
  add(what: "sample" | "cell", text: string): void;
}

/** Turns samples, one after another, into rows of the tables of a format. */
export interface ExchangeWriter {
  /** Rows of a sample for each table, in the order of `tables`. */
  rows(sample: ExchangeSample): readonly (readonly OutputRow[])[];
}

/** A format of exchange: everything about it in one object. */
export interface ExchangeFormat<Id extends string = string> {
  /** As users write it behind `--as`. */
  readonly id: Id;
  readonly tables: readonly ExchangeTable[];
  /** Files beside the tables, by name: descriptions of them for programs and people. */
  readonly documents: (run: ExchangeRun) => ReadonlyMap<string, string>;
  /** Name of a zip archive of tables and documents that is made beside them; none when left out. */
  readonly archive?: string | undefined;
  create(run: ExchangeRun, notes: ExchangeNotes): ExchangeWriter;
}

/** Keeps the literal type of the id. */
export function defineExchange<const Id extends string>(format: ExchangeFormat<Id>): ExchangeFormat<Id> {
  return format;
}
