import { at } from "./at.ts";
import type { RowPages } from "./row-pages.ts";
import { firstOf, PAGE_ROWS, pageOf, withinPage } from "./row-pages.ts";
import { fileIn, REST } from "./row-words.ts";

/** Where rows stand in their files; it needs room for every row only where sheets are of an unusual form. */
export class RowPlaces {
  readonly files: string[] = [];
  readonly #rows: RowPages;
  #current = -1;
  /**
   * Lines by page. Nearly always one row follows the other line by line; then only the line of the page's first row
   * is kept, else the line of each.
   */
  readonly #lines: (number | Uint32Array)[] = [];
  /** Only sheets in which the column of the count differs from row to row need it. */
  #columns: Uint32Array[] | undefined;
  readonly #columnOfFile: number[] = [];
  readonly #nameColumnOfFile: number[] = [];

  /** @param rows the words of the same rows, each of which is added there first */
  constructor(rows: RowPages) {
    this.#rows = rows;
  }

  startFile(file: string): void {
    this.files.push(file);
    this.#columnOfFile.push(0);
    this.#nameColumnOfFile.push(0);
    this.#current = this.files.length - 1;
  }

  /** @throws RangeError for a file that was not started */
  continueFile(file: number): void {
    if (this.files[file] === undefined) throw new RangeError(`no file has the number ${file}`);
    this.#current = file;
  }

  setNameColumn(column: number): void {
    this.#nameColumnOfFile[this.#current] = column;
  }

  /** @throws RangeError before the first file is started */
  get currentFile(): number {
    if (this.#current < 0) throw new RangeError("a row came before its file");
    return this.#current;
  }

  /** Says where the next row of the file at hand stands. */
  add(row: number, line: number, column: number): void {
    const page = pageOf(row);
    const within = withinPage(row);
    if (page === this.#lines.length) this.#lines.push(line);
    else if (this.#lines[page] !== line - within) this.#setLine(row, line);
    if (!this.#isUsual(column)) this.#setColumn(row, column);
  }

  /** Says the same of rows of the file at hand that stand line by line one below the other. */
  addAll(first: number, rows: number, firstLine: number, column: number): void {
    const end = first + rows;
    for (let row = first; row < end; ) {
      const page = pageOf(row);
      const stop = Math.min(end, firstOf(page + 1));
      const line = firstLine + row - first;
      if (page === this.#lines.length) this.#lines.push(line);
      if (this.#lines[page] !== line - withinPage(row))
        for (let own = row; own < stop; own++) this.#setLine(own, line + own - row);
      row = stop;
    }
    if (!this.#isUsual(column)) for (let row = first; row < end; row++) this.#setColumn(row, column);
  }

  fileNumberAt(row: number): number {
    return fileIn(this.#rows.word(row, REST));
  }

  lineAt(row: number): number {
    const lines = this.#lines[pageOf(row)] as number | Uint32Array;
    return typeof lines === "number" ? lines + withinPage(row) : (lines[withinPage(row)] as number);
  }

  /** 1-based number of the field that holds the count. */
  columnAt(row: number): number {
    if (this.#columns === undefined) return at(this.#columnOfFile, this.fileNumberAt(row));
    return at(at(this.#columns, pageOf(row)), withinPage(row));
  }

  nameColumnAt(row: number): number {
    return at(this.#nameColumnOfFile, this.fileNumberAt(row));
  }

  #setLine(row: number, line: number): void {
    const page = pageOf(row);
    let lines = this.#lines[page] as number | Uint32Array;
    if (typeof lines === "number") {
      const first = lines;
      lines = new Uint32Array(PAGE_ROWS).map((_, own) => first + own);
      this.#lines[page] = lines;
    }
    lines[withinPage(row)] = line;
  }

  /** Whether all rows of the file at hand have their counts in this column, and those of other files in one each. */
  #isUsual(column: number): boolean {
    return this.#columns === undefined && this.#columnOfFile[this.#current] === column;
  }

  #setColumn(row: number, column: number): void {
    if (this.#columns === undefined) {
      const usual = at(this.#columnOfFile, this.#current);
      if (usual === 0) this.#columnOfFile[this.#current] = column;
      if (usual === 0 || usual === column) return;
      const before: Uint32Array[] = [];
      for (let earlier = 0; earlier < row; earlier++) setIn(before, earlier, this.columnAt(earlier));
      this.#columns = before;
    }
    setIn(this.#columns, row, column);
  }
}

function setIn(pages: Uint32Array[], row: number, value: number): void {
  let page = pages[pageOf(row)];
  if (page === undefined) {
    page = new Uint32Array(PAGE_ROWS);
    pages.push(page);
  }
  page[withinPage(row)] = value;
}
