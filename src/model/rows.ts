import { at } from "./at.ts";
import { Dictionary } from "./dictionary.ts";
import type { LifeStage } from "./life-stage.ts";
import { LIFE_STAGES } from "./life-stage.ts";
import {
  COUNT,
  countSamples,
  kindIn,
  NAME,
  noteStages,
  numberFrom,
  putInOrder,
  putKindsInOrder,
  REST,
  ROW_WORDS,
  restWord,
  SAMPLE,
  stageIn,
} from "./row-words.ts";

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

/** Row numbers sample by sample. */
export interface RowsBySample {
  readonly order: Uint32Array;
  readonly starts: Uint32Array;
}

/** Rows lie in pages: growing copies nothing, and no page stands half empty but the last. */
const PAGE_BITS = 14;
const PAGE_ROWS = 1 << PAGE_BITS;
const WITHIN = PAGE_ROWS - 1;

/**
 * All rows of a batch, 16 bytes a row and up to 8 more where sheets are of an unusual form, whatever their order and
 * however many files they came from. Sample ids and names are numbers of two dictionaries.
 */
export class RowTable {
  readonly samples = new Dictionary();
  readonly names = new Dictionary();
  readonly files: string[] = [];
  #size = 0;
  readonly #pages: Uint32Array[] = [];
  /**
   * Lines by page. Nearly always one row follows the other line by line; then only the line of the page's first row
   * is kept, else the line of each.
   */
  readonly #lines: (number | Uint32Array)[] = [];
  /** Only sheets in which the column of the count differs from row to row need it. */
  #columns: Uint32Array[] | undefined;
  readonly #columnOfFile: number[] = [];
  readonly #nameColumnOfFile: number[] = [];
  readonly #rare = new Map<number, RareFacts>();
  #current = -1;
  #bySample: RowsBySample | undefined;

  /** Starts a file; the rows added after it belong to it. */
  startFile(file: string): void {
    this.files.push(file);
    this.#columnOfFile.push(0);
    this.#nameColumnOfFile.push(0);
    this.#current = this.files.length - 1;
  }

  /**
   * Goes back to a file that was started before; the rows added after it belong to it.
   *
   * @throws RangeError for a file that was not started
   */
  continueFile(file: number): void {
    if (this.files[file] === undefined) throw new RangeError(`no file has the number ${file}`);
    this.#current = file;
  }

  /** Says which field of the file at hand holds the names, 1-based. */
  setNameColumn(column: number): void {
    this.#nameColumnOfFile[this.#current] = column;
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
    const file = this.currentFile;
    const row = this.#size++;
    const page = this.#pageFor(row, line);
    const start = (row & WITHIN) * ROW_WORDS;
    page[start + SAMPLE] = sample;
    page[start + NAME] = name;
    page[start + COUNT] = count;
    page[start + REST] = restWord(file, facts);
    if (this.#lines[row >>> PAGE_BITS] !== line - (row & WITHIN)) this.#setLine(row, line);
    if (this.#columnOfFile[file] !== facts.column || this.#columns !== undefined)
      this.#setColumn(row, file, facts.column);
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
    const file = this.currentFile;
    for (let done = 0; done < rows; ) {
      const first = this.#size;
      const within = first & WITHIN;
      const here = Math.min(rows - done, PAGE_ROWS - within);
      const page = this.#pageFor(first, firstLine + done);
      page.set(words.subarray(done * ROW_WORDS, (done + here) * ROW_WORDS), within * ROW_WORDS);
      this.#size += here;
      if (this.#lines[first >>> PAGE_BITS] !== firstLine + done - within)
        for (let row = first; row < this.#size; row++) this.#setLine(row, firstLine + done + row - first);
      if (this.#columnOfFile[file] !== column || this.#columns !== undefined)
        for (let row = first; row < this.#size; row++) this.#setColumn(row, file, column);
      done += here;
    }
    this.#bySample = undefined;
  }

  /** Keeps facts that few rows have for a row that was added without them. */
  setRare(row: number, facts: RareFacts): void {
    this.#rare.set(row, facts);
  }

  /** The file to which the next row belongs. @throws RangeError before the first file is started */
  get currentFile(): number {
    if (this.#current < 0) throw new RangeError("a row came before its file");
    return this.#current;
  }

  get size(): number {
    return this.#size;
  }

  sampleAt(row: number): number {
    return this.#word(row, SAMPLE);
  }

  nameAt(row: number): number {
    return this.#word(row, NAME);
  }

  countAt(row: number): number {
    return this.#word(row, COUNT);
  }

  stageAt(row: number): LifeStage {
    return at(LIFE_STAGES, this.stageNumberAt(row));
  }

  /** Position of the stage in LIFE_STAGES. */
  stageNumberAt(row: number): number {
    return stageIn(this.#word(row, REST));
  }

  /** The place of the row's name and stage in `namesByStage`. */
  nameAndStageAt(row: number): number {
    return kindIn(this.#pages[row >>> PAGE_BITS] as Uint32Array, (row & WITHIN) * ROW_WORDS);
  }

  flagsAt(row: number): number {
    return this.#word(row, REST) & 0xff;
  }

  /** Position in `files`; a file that was given twice has two. */
  fileNumberAt(row: number): number {
    return this.#word(row, REST) >>> 16;
  }

  fileAt(row: number): string {
    return at(this.files, this.fileNumberAt(row));
  }

  lineAt(row: number): number {
    const lines = this.#lines[row >>> PAGE_BITS] as number | Uint32Array;
    return typeof lines === "number" ? lines + (row & WITHIN) : (lines[row & WITHIN] as number);
  }

  columnAt(row: number): number {
    if (this.#columns === undefined) return at(this.#columnOfFile, this.fileNumberAt(row));
    return at(at(this.#columns, row >>> PAGE_BITS), row & WITHIN);
  }

  /** 1-based number of the field that holds the name; 0 when it is not known. */
  nameColumnAt(row: number): number {
    return at(this.#nameColumnOfFile, this.fileNumberAt(row));
  }

  /** Whether any row says more than stage and flags can hold. */
  get hasRare(): boolean {
    return this.#rare.size > 0;
  }

  rareAt(row: number): RareFacts | undefined {
    return this.#rare.size === 0 ? undefined : this.#rare.get(row);
  }

  /**
   * The rows of every sample: `order` holds row numbers sample by sample (each in file order), `starts[s]` to
   * `starts[s + 1]` are those of sample s. Worked out once for all who ask.
   */
  bySample(): RowsBySample {
    // A sample may have been met without a row of its own.
    if (this.#bySample?.starts.length !== this.samples.size + 1) this.#bySample = this.#sortBySample();
    return this.#bySample;
  }

  #sortBySample(): RowsBySample {
    const starts = new Uint32Array(this.samples.size + 1);
    let last = 0;
    for (let page = 0; page < this.#pages.length; page++)
      last = countSamples(this.#pages[page] as Uint32Array, this.#wordsIn(page), starts, last);
    for (let s = 0; s < this.samples.size; s++) starts[s + 1] = at(starts, s + 1) + at(starts, s);
    const order = new Uint32Array(this.#size);
    const next = starts.slice();
    // Rows that lie sample by sample are in order as they are.
    for (let page = 0; page < this.#pages.length; page++) {
      const first = page << PAGE_BITS;
      if (last >= 0) numberFrom(first, order.subarray(first, first + PAGE_ROWS));
      else putInOrder(this.#pages[page] as Uint32Array, this.#wordsIn(page), first, order, next);
    }
    return { order, starts };
  }

  /**
   * The name and stage of every row, as `nameAndStageAt` gives them, in the order of `bySample`. Made anew each time,
   * for whoever looks at all of them: rows in any order are written to their places several times as quickly as
   * they are looked up.
   */
  namesAndStagesBySample(): Uint16Array | Uint32Array {
    const next = this.bySample().starts.slice();
    const kinds = this.names.size * LIFE_STAGES.length;
    const rows = kinds <= 1 << 16 ? new Uint16Array(this.#size) : new Uint32Array(this.#size);
    for (let page = 0; page < this.#pages.length; page++)
      putKindsInOrder(this.#pages[page] as Uint32Array, this.#wordsIn(page), rows, next);
    return rows;
  }

  /** Whether any row has a name and a stage: 1 at the number of the name times the number of stages, plus the stage. */
  namesByStage(): Uint8Array {
    const met = new Uint8Array(this.names.size * LIFE_STAGES.length);
    for (let page = 0; page < this.#pages.length; page++)
      noteStages(this.#pages[page] as Uint32Array, this.#wordsIn(page), met);
    return met;
  }

  /** Words of a page that are used. */
  #wordsIn(page: number): number {
    return Math.min(this.#size - (page << PAGE_BITS), PAGE_ROWS) * ROW_WORDS;
  }

  /** The page of a row that is to be written, a new one for the first of its rows. */
  #pageFor(row: number, line: number): Uint32Array {
    let page = this.#pages[row >>> PAGE_BITS];
    if (page === undefined) {
      page = new Uint32Array(PAGE_ROWS * ROW_WORDS);
      this.#pages.push(page);
      this.#lines.push(line);
    }
    return page;
  }

  #word(row: number, word: number): number {
    // Called for every word of every row.
    return (this.#pages[row >>> PAGE_BITS] as Uint32Array)[(row & WITHIN) * ROW_WORDS + word] as number;
  }

  #setLine(row: number, line: number): void {
    const page = row >>> PAGE_BITS;
    let lines = this.#lines[page] as number | Uint32Array;
    if (typeof lines === "number") {
      const first = lines;
      lines = new Uint32Array(PAGE_ROWS).map((_, own) => first + own);
      this.#lines[page] = lines;
    }
    lines[row & WITHIN] = line;
  }

  #setColumn(row: number, file: number, column: number): void {
    if (this.#columns === undefined) {
      const usual = at(this.#columnOfFile, file);
      if (usual === 0) this.#columnOfFile[file] = column;
      if (usual === 0 || usual === column) return;
      const before: Uint32Array[] = [];
      for (let earlier = 0; earlier < row; earlier++) setIn(before, earlier, this.columnAt(earlier));
      this.#columns = before;
    }
    setIn(this.#columns, row, column);
  }
}

function setIn(pages: Uint32Array[], row: number, value: number): void {
  let page = pages[row >>> PAGE_BITS];
  if (page === undefined) {
    page = new Uint32Array(PAGE_ROWS);
    pages.push(page);
  }
  page[row & WITHIN] = value;
}
