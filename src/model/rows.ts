import { at } from "./at.ts";
import { Dictionary } from "./dictionary.ts";
import type { LifeStage } from "./life-stage.ts";
import { LIFE_STAGES } from "./life-stage.ts";
import { RowPages } from "./row-pages.ts";
import { RowPlaces } from "./row-places.ts";
import { COUNT, flagsIn, kindOf, NAME, noteStages, REST, restWord, SAMPLE, stageIn } from "./row-words.ts";
import { RowsBySample } from "./rows-by-sample.ts";

/** Largest count a bench sheet may hold in one row; more is a slip of the keyboard. */
export const LARGEST_COUNT = 1_000_000_000;

/** Facts of a row that are yes or no, one bit each. */
export const ROW_FLAGS = {
  /** Found in the search for large and rare animals, not in the grids. */
  largeRare: 1,
  /** Went back to the stream alive. */
  released: 2,
  /** The taxonomist says: another taxon of its line. */
  distinctYes: 4,
  /** The taxonomist says: not another taxon. */
  distinctNo: 8,
  /** The count was expanded from a part of the sample, so no animal of it can be drawn. */
  expanded: 16,
} as const;

/** Columns that few sheets have; kept by row number so that the table stays small. */
export interface RareFacts {
  readonly grid?: string;
  readonly container?: string;
  readonly trayLevel?: string;
  readonly numberOfTaxa?: number;
  readonly certainty?: number;
  readonly condition?: string;
  readonly reason?: string;
  readonly identifiedBy?: string;
  readonly identifiedOn?: string;
  readonly mountFraction?: string;
  readonly slideOrVial?: string;
  readonly note?: string;
}

/** One row as the readers hand it over. */
export interface RowInput {
  readonly sampleId: string;
  /** The name as written, without white space at its ends. */
  readonly name: string;
  readonly count: number;
  readonly stage: LifeStage;
  /** Bits of ROW_FLAGS. */
  readonly flags: number;
  readonly line: number;
  /** 1-based number of the field that holds the count (cross-tab sheets have one for each sample). */
  readonly column: number;
  readonly rare?: RareFacts | undefined;
}

/** What a row says beyond its sample, name, count and line, in numbers. */
export interface NumberedFacts {
  /** Position in LIFE_STAGES. */
  readonly stage: number;
  /** Bits of ROW_FLAGS. */
  readonly flags: number;
  /** 1-based number of the field that holds the count. */
  readonly column: number;
  readonly rare?: RareFacts | undefined;
}

/**
 * All rows of a batch, 16 bytes a row and up to 8 more where sheets are of an unusual form, whatever their order and
 * however many files they came from. Sample ids and names are numbers of two dictionaries.
 */
export class RowTable {
  readonly samples = new Dictionary();
  readonly names = new Dictionary();
  readonly #rows = new RowPages();
  readonly #places = new RowPlaces(this.#rows);
  readonly #rare = new Map<number, RareFacts>();
  #bySample: RowsBySample | undefined;

  get files(): readonly string[] {
    return this.#places.files;
  }

  /** Starts a file; the rows added after it belong to it. */
  startFile(file: string): void {
    this.#places.startFile(file);
  }

  /**
   * Goes back to a file that was started before; the rows added after it belong to it.
   *
   * @throws RangeError for a file that was not started
   */
  continueFile(file: number): void {
    this.#places.continueFile(file);
  }

  /** Says which field of the file at hand holds the names, 1-based. */
  setNameColumn(column: number): void {
    this.#places.setNameColumn(column);
  }

  add(row: RowInput): void {
    const sample = this.samples.add(row.sampleId);
    const name = this.names.add(row.name);
    this.addNumbered(sample, name, row.count, row.line, { ...row, stage: LIFE_STAGES.indexOf(row.stage) });
  }

  /**
   * Adds a row whose sample and name have their numbers in `samples` and `names` already.
   *
   * @param facts the same for many rows; `stage` is a position in LIFE_STAGES
   */
  addNumbered(sample: number, name: number, count: number, line: number, facts: NumberedFacts): void {
    const row = this.#rows.add(sample, name, count, restWord(this.currentFile, facts));
    this.#places.add(row, line, facts.column);
    if (facts.rare !== undefined) this.#rare.set(row, facts.rare);
    this.#bySample = undefined;
  }

  /**
   * Adds rows of the file at hand that stand line by line one below the other.
   *
   * @param words of each row: sample, name, count and `restWord`
   * @param column 1-based number of the field that holds the counts
   */
  addRows(words: Uint32Array, rows: number, firstLine: number, column: number): void {
    const first = this.#rows.size;
    this.#rows.addAll(words, rows);
    this.#places.addAll(first, rows, firstLine, column);
    this.#bySample = undefined;
  }

  /** Keeps facts that few rows have for a row that was added without them. */
  setRare(row: number, facts: RareFacts): void {
    this.#rare.set(row, facts);
  }

  /** The file to which the next row belongs. @throws RangeError before the first file is started */
  get currentFile(): number {
    return this.#places.currentFile;
  }

  get size(): number {
    return this.#rows.size;
  }

  sampleAt(row: number): number {
    return this.#rows.word(row, SAMPLE);
  }

  nameAt(row: number): number {
    return this.#rows.word(row, NAME);
  }

  countAt(row: number): number {
    return this.#rows.word(row, COUNT);
  }

  stageAt(row: number): LifeStage {
    return at(LIFE_STAGES, this.stageNumberAt(row));
  }

  /** Position of the stage in LIFE_STAGES. */
  stageNumberAt(row: number): number {
    return stageIn(this.#rows.word(row, REST));
  }

  /** The place of the row's name and stage in `namesByStage`. */
  nameAndStageAt(row: number): number {
    return kindOf(this.#rows.word(row, NAME), this.#rows.word(row, REST));
  }

  flagsAt(row: number): number {
    return flagsIn(this.#rows.word(row, REST));
  }

  /** Position in `files`; a file that was given twice has two. */
  fileNumberAt(row: number): number {
    return this.#places.fileNumberAt(row);
  }

  fileAt(row: number): string {
    return at(this.files, this.fileNumberAt(row));
  }

  lineAt(row: number): number {
    return this.#places.lineAt(row);
  }

  /** 1-based number of the field that holds the count. */
  columnAt(row: number): number {
    return this.#places.columnAt(row);
  }

  /** 1-based number of the field that holds the name; 0 when it is not known. */
  nameColumnAt(row: number): number {
    return this.#places.nameColumnAt(row);
  }

  /** Whether any row says more than stage and flags can hold. */
  get hasRare(): boolean {
    return this.#rare.size > 0;
  }

  rareAt(row: number): RareFacts | undefined {
    return this.#rare.size === 0 ? undefined : this.#rare.get(row);
  }

  /** The rows of every sample, worked out once for all who ask. */
  bySample(): RowsBySample {
    // A sample may have been met without a row of its own.
    if (this.#bySample?.starts.length !== this.samples.size + 1)
      this.#bySample = new RowsBySample(this.#rows, this.samples.size);
    return this.#bySample;
  }

  /**
   * The name and stage of every row, as `nameAndStageAt` gives them, in the order of `bySample`. Made anew each time,
   * for whoever looks at all of them: rows in any order are written to their places several times as quickly as
   * they are looked up. To be used before rows are laid ready, which may write over them.
   */
  namesAndStagesBySample(): Uint16Array | Uint32Array {
    return this.bySample().kinds(this.names.size * LIFE_STAGES.length);
  }

  /** Whether any row has a name and a stage: 1 at the number of the name times the number of stages, plus the stage. */
  namesByStage(): Uint8Array {
    const met = new Uint8Array(this.names.size * LIFE_STAGES.length);
    for (let page = 0; page < this.#rows.count; page++)
      noteStages(this.#rows.page(page), this.#rows.wordsIn(page), met);
    return met;
  }
}
