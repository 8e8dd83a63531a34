import type { OutputColumn, OutputRow } from "../files/formats/define.ts";

/** A table of quality figures. */
export interface QualityTable {
  /** Stable, lower case: how the command line asks for it and what its file is called. */
  readonly id: string;
  readonly title: string;
  /** What it shows and how to read it, in a sentence or two. */
  readonly explains: string;
  readonly columns: readonly OutputColumn[];
  /** Names of the columns that fit a terminal and that a person looks at first; files have all of them. */
  readonly brief: readonly string[];
  readonly rows: readonly OutputRow[];
}
