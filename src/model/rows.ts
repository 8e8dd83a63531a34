import { Dictionary } from "./dictionary.ts";
import type { LifeStage } from "./life-stage.ts";
import { LIFE_STAGES } from "./life-stage.ts";

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

/**
 * All rows of a batch in columns, about 20 bytes a row, whatever their order and however many files they came
 * from. Sample ids and names are numbers of two dictionaries.
 */
export class RowTable {
  readonly samples = new Dictionary();
  readonly names = new Dictionary();
  readonly files: string[] = [];
  #size = 0;
  #capacity = 1024;
  #sample = new Uint32Array(this.#capacity);
  #name = new Uint32Array(this.#capacity);
  #count = new Uint32Array(this.#capacity);
  #line = new Uint32Array(this.#capacity);
  #file = new Uint16Array(this.#capacity);
  #stage = new Uint8Array(this.#capacity);
  #flags = new Uint8Array(this.#capacity);
  /** Only sheets in which the column of the count differs from row to row need it. */
  #column: Uint32Array | undefined;
  readonly #columnOfFile: number[] = [];
  readonly #nameColumnOfFile: number[] = [];
  readonly #rare = new Map<number, RareFacts>();
  #current = -1;

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
    const file = this.#current;
    if (file < 0) throw new RangeError("a row came before its file");
    if (this.#size === this.#capacity) this.#grow();
    const at = this.#size++;
    this.#sample[at] = this.samples.add(row.sampleId);
    this.#name[at] = this.names.add(row.name);
    this.#count[at] = row.count;
    this.#line[at] = row.line;
    this.#file[at] = file;
    this.#stage[at] = LIFE_STAGES.indexOf(row.stage);
    this.#flags[at] = row.flags;
    this.#setColumn(at, file, row.column);
    if (row.rare !== undefined) this.#rare.set(at, row.rare);
  }

  get size(): number {
    return this.#size;
  }

  sampleAt(row: number): number {
    return this.#sample[row] ?? 0;
  }

  nameAt(row: number): number {
    return this.#name[row] ?? 0;
  }

  countAt(row: number): number {
    return this.#count[row] ?? 0;
  }

  stageAt(row: number): LifeStage {
    return LIFE_STAGES[this.#stage[row] ?? 0] ?? "unknown";
  }

  /** Position of the stage in LIFE_STAGES. */
  stageNumberAt(row: number): number {
    return this.#stage[row] ?? 0;
  }

  flagsAt(row: number): number {
    return this.#flags[row] ?? 0;
  }

  /** Position in `files`; a file that was given twice has two. */
  fileNumberAt(row: number): number {
    return this.#file[row] ?? 0;
  }

  fileAt(row: number): string {
    return this.files[this.#file[row] ?? 0] ?? "";
  }

  lineAt(row: number): number {
    return this.#line[row] ?? 0;
  }

  columnAt(row: number): number {
    return this.#column?.[row] ?? this.#columnOfFile[this.#file[row] ?? 0] ?? 0;
  }

  /** 1-based number of the field that holds the name; 0 when it is not known. */
  nameColumnAt(row: number): number {
    return this.#nameColumnOfFile[this.#file[row] ?? 0] ?? 0;
  }

  rareAt(row: number): RareFacts | undefined {
    return this.#rare.get(row);
  }

  /**
   * The rows of every sample: `order` holds row numbers sample by sample (each in file order), `starts[s]` to
   * `starts[s + 1]` are those of sample s.
   */
  bySample(): { readonly order: Uint32Array; readonly starts: Uint32Array } {
    const starts = new Uint32Array(this.samples.size + 1);
    for (let row = 0; row < this.#size; row++) {
      const next = this.sampleAt(row) + 1;
      starts[next] = (starts[next] ?? 0) + 1;
    }
    for (let s = 0; s < this.samples.size; s++) starts[s + 1] = (starts[s + 1] ?? 0) + (starts[s] ?? 0);
    const order = new Uint32Array(this.#size);
    const next = starts.slice();
    for (let row = 0; row < this.#size; row++) {
      const sample = this.sampleAt(row);
      const at = next[sample] ?? 0;
      order[at] = row;
      next[sample] = at + 1;
    }
    return { order, starts };
  }

  #setColumn(at: number, file: number, column: number): void {
    if (this.#column !== undefined) {
      this.#column[at] = column;
      return;
    }
    const usual = this.#columnOfFile[file] ?? 0;
    if (usual === 0) this.#columnOfFile[file] = column;
    else if (usual !== column) {
      const columns = new Uint32Array(this.#capacity);
      for (let row = 0; row < at; row++) columns[row] = this.columnAt(row);
      columns[at] = column;
      this.#column = columns;
    }
  }

  #grow(): void {
    this.#capacity *= 2;
    this.#sample = grown(this.#sample, this.#capacity);
    this.#name = grown(this.#name, this.#capacity);
    this.#count = grown(this.#count, this.#capacity);
    this.#line = grown(this.#line, this.#capacity);
    const file = new Uint16Array(this.#capacity);
    file.set(this.#file);
    this.#file = file;
    const stage = new Uint8Array(this.#capacity);
    stage.set(this.#stage);
    this.#stage = stage;
    const flags = new Uint8Array(this.#capacity);
    flags.set(this.#flags);
    this.#flags = flags;
    if (this.#column !== undefined) this.#column = grown(this.#column, this.#capacity);
  }
}

function grown(array: Uint32Array, capacity: number): Uint32Array<ArrayBuffer> {
  const larger = new Uint32Array(capacity);
  larger.set(array);
  return larger;
}
