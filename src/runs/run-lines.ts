import { isUtf8 } from "node:buffer";
import { join } from "node:path";
import { FileError } from "../files/file-error.ts";
import { nodeFileSystem } from "../files/file-system.ts";
import type { Watcher } from "../model/watcher.ts";
import { megabytes, unwatched } from "../model/watcher.ts";
import type { RunFolder } from "./run-table.ts";
import { asRunError } from "./run-table.ts";

const LINE_FEED = 10;
/** Read at once: a run is long, and asking for a piece of it takes its time. */
const PIECE_BYTES = 1 << 20;

/**
 * Gives the lines of a file of a run, many at once, so that a large table never lies in memory as a whole. Every
 * piece ends with a line feed but the last, which may lack it. The bytes of a piece hold until the next one is asked
 * for: one piece is read into the memory of the last but one.
 *
 * @throws FileError when the file is not there or no UTF-8
 */
export async function* runLines(
  folder: RunFolder,
  name: string,
  watch: Watcher = unwatched,
): AsyncGenerator<Uint8Array> {
  const shown = `${folder.shownAs}/${name}`;
  const checked = (lines: Uint8Array) => {
    if (!isUtf8(lines)) throw new FileError(shown, "is not UTF-8 text");
    return lines;
  };
  try {
    const path = join(folder.path, name);
    const { size } = await nodeFileSystem.facts(path);
    const handle = await nodeFileSystem.openToRead(path);
    const most = Math.min(size + 1, PIECE_BYTES);
    let [piece, spare] = [Buffer.allocUnsafeSlow(most), Buffer.allocUnsafeSlow(most)];
    let ahead = handle.read(piece);
    // The start of a line that has not ended, which may be longer than a piece.
    let open: Uint8Array[] = [];
    try {
      let done = 0;
      for (let length = await ahead; length > 0; length = await ahead) {
        const bytes = piece.subarray(0, length);
        [piece, spare] = [spare, piece];
        ahead = handle.read(piece);
        // A failure is met when its turn comes.
        ahead.catch(() => undefined);
        done += length;
        await watch("megabytes of rows read", megabytes(done), megabytes(size));
        const end = bytes.lastIndexOf(LINE_FEED) + 1;
        const first = open.length === 0 || end === 0 ? 0 : bytes.indexOf(LINE_FEED) + 1;
        if (first > 0) {
          yield checked(Buffer.concat([...open, bytes.subarray(0, first)]));
          open = [];
        }
        if (end > first) yield checked(bytes.subarray(first, end));
        if (end < length) open.push(Buffer.from(bytes.subarray(end)));
      }
    } finally {
      await ahead.catch(() => undefined);
      await handle.close();
    }
    if (open.length > 0) yield checked(Buffer.concat(open));
  } catch (error) {
    throw asRunError(folder, shown, error);
  }
}
