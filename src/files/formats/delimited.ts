import { withGuard } from "../formula-guard.ts";
import { textIn } from "../text/byte-text.ts";
import type { OutputColumn, TableWriter, TextSink } from "./define.ts";
import { RowBytes } from "./row-bytes.ts";

/** Bytes that are handed on at once. */
const PIECE_LENGTH = 1 << 16;

/**
 * Writes delimited text: UTF-8, LF, a header row, quotes only where they are needed (RFC 4180). A missing value
 * is an empty cell. Text that a spreadsheet program would run as a formula gets an apostrophe in front.
 */
export function delimitedWriter(
  sink: TextSink,
  columns: readonly OutputColumn[],
  delimiter: "," | "\t",
): TableWriter {
  const rows = new RowBytes(columns, delimiter);
  const give = async (bytes: Uint8Array) => {
    if (sink.writeBytes === undefined) await sink.write(textIn(bytes, 0, bytes.length));
    else await sink.writeBytes(bytes);
  };
  const handOn = async () => {
    if (rows.length > 0) await give(rows.take());
  };
  return {
    async start() {
      rows.addTexts(columns.map((column) => withGuard(column.name)));
    },
    row(cells) {
      rows.add(cells);
      return rows.length < PIECE_LENGTH ? undefined : handOn();
    },
    async bytes(made) {
      await handOn();
      await give(made);
    },
    async end() {
      await handOn();
      await sink.flush?.();
    },
  };
}
