import type { LineBlock, LineTaker, TakenLines } from "../files/table-reading.ts";
import { afterCell, byteMeanings, endOfText, FEED_BYTE, plainBytes } from "../files/text/plain-cells.ts";
import { CellNumbers } from "./cell-numbers.ts";
import { usableText } from "./cell-text.ts";
import type { LogSamples } from "./log-samples.ts";
import type { LogField, LogLayout } from "./sample-log.ts";

/** So many cells of a column are remembered; a column that says more says something else in every row. */
const MOST_CELLS = 1 << 12;

/** A column whose cells are kept, and the texts of those met so far. */
interface KeptColumn {
  readonly field: LogField;
  readonly cells: CellNumbers;
  readonly texts: string[];
}

/**
 * Reads the rows of a sample log straight from the bytes of their lines. It takes a row only where every cell can be
 * used as it stands and its sample has no row yet; any other is left to the reader of records, which says what is
 * wrong. So nothing here complains, and both ways give the same log.
 */
export class PlainLog implements LineTaker {
  readonly #layout: LogLayout;
  readonly #samples: LogSamples;
  readonly #width: number;
  readonly #nameless: { readonly open: readonly number[] };
  /** By number of the cell; undefined for columns that are not kept. */
  readonly #kept: readonly (KeptColumn | undefined)[];
  /** The texts of the row at hand, in the order of the layout's names. */
  readonly #texts: string[];
  #rows = 0;

  /** @param samples rows met so far, to which new ones are added */
  constructor(
    layout: LogLayout,
    width: number,
    nameless: { readonly open: readonly number[] },
    samples: LogSamples,
  ) {
    this.#layout = layout;
    this.#samples = samples;
    this.#width = width;
    this.#nameless = nameless;
    this.#kept = Array.from({ length: width }, (_, cell) => {
      const field = layout.read.find((one) => one.cell === cell);
      return field && { field, cells: new CellNumbers(), texts: [] };
    });
    this.#texts = layout.rows.names.map(() => "");
  }

  /** Rows taken so far. */
  get rows(): number {
    return this.#rows;
  }

  takeLines({ bytes: given, delimiter, line }: LineBlock): TakenLines {
    const bytes = plainBytes(given);
    const block = Buffer.from(given.buffer, given.byteOffset, given.length);
    const meaning = byteMeanings(delimiter);
    const last = bytes.lastIndexOf(FEED_BYTE);
    let end = 0;
    let lines = 0;
    while (end <= last) {
      const next = this.#takeRow(bytes, block, end, meaning, line + lines);
      if (next < 0) break;
      end = next;
      lines++;
    }
    this.#rows += lines;
    return { end, lines };
  }

  /** Adds a row; returns where the next line begins, -1 with nothing added when the row needs a second look. */
  #takeRow(bytes: Uint8Array, block: Buffer, start: number, meaning: Uint8Array, line: number): number {
    const { key, rows } = this.#layout;
    let sampleId = "";
    let at = start;
    for (let column = 0; column < this.#width; column++) {
      const begin = at;
      const kept = this.#kept[column];
      if (column === key) {
        at = endOfText(bytes, begin, meaning);
        const text = usableText(block, begin, at);
        if (text === undefined) return -1;
        sampleId = text;
        if (kept !== undefined) this.#texts[kept.field.at] = text;
      } else if (kept === undefined) {
        at = endOfText(bytes, begin, meaning);
        if (at > begin && this.#nameless.open.includes(column)) return -1;
      } else {
        const cell = kept.cells.findFrom(bytes, begin, meaning);
        at = kept.cells.end;
        const text = cell < 0 ? newText(kept, bytes, block, begin, at) : kept.texts[cell];
        if (text === undefined) return -1;
        this.#texts[kept.field.at] = text;
      }
      at = afterCell(bytes, at, meaning, column === this.#width - 1);
      if (at < 0) return -1;
    }
    return this.#samples.add(rows.add(sampleId, this.#texts, line)) ? at : -1;
  }
}

/** The text of a cell that its column has not had so far; undefined when it needs a second look. */
function newText(
  kept: KeptColumn,
  bytes: Uint8Array,
  block: Buffer,
  from: number,
  to: number,
): string | undefined {
  const text = from === to ? "" : usableText(block, from, to);
  if (text === undefined || kept.field.faultOf(text) !== undefined) return undefined;
  if (kept.cells.size < MOST_CELLS && kept.cells.add(bytes, from, to) >= 0) kept.texts.push(text);
  return text;
}
