import { isUtf8 } from "node:buffer";
import { join } from "node:path";
import { FileError } from "../files/file-error.ts";
import { nodeFileSystem } from "../files/file-system.ts";
import { readHandle } from "../files/input.ts";
import { LineBlocks } from "../files/text/line-blocks.ts";
import type { Watcher } from "../model/watcher.ts";
import { megabytes, unwatched } from "../model/watcher.ts";
import type { RunFolder } from "./run-table.ts";
import { asRunError } from "./run-table.ts";

const LINE_FEED = 10;

/**
 * Gives the lines of a file of a run, many at once, so that a large table never lies in memory as a whole. Every
 * piece ends with a line feed but the last, which may lack it.
 *
 * @throws FileError when the file is not there or no UTF-8
 */
export async function* runLines(
  folder: RunFolder,
  name: string,
  watch: Watcher = unwatched,
): AsyncGenerator<Uint8Array> {
  const shown = `${folder.shownAs}/${name}`;
  const whole = (pieces: readonly Uint8Array[]) => {
    const [first = new Uint8Array(0), ...more] = pieces;
    const lines = more.length === 0 ? first : Buffer.concat(pieces);
    if (!isUtf8(lines)) throw new FileError(shown, "is not UTF-8 text");
    return lines;
  };
  // A line may be longer than a block.
  let pieces: Uint8Array[] = [];
  try {
    const path = join(folder.path, name);
    const { size } = await nodeFileSystem.facts(path);
    const chunks = readHandle(shown, await nodeFileSystem.openToRead(path), true);
    let read = 0;
    try {
      for await (const block of new LineBlocks(chunks, true)) {
        pieces.push(block);
        read += block.length;
        await watch("megabytes of rows read", megabytes(read), megabytes(size));
        if (block.at(-1) !== LINE_FEED) continue;
        yield whole(pieces);
        pieces = [];
      }
    } finally {
      // Blocks that nobody takes any more leave the file open.
      await chunks.return(undefined);
    }
    if (pieces.length > 0) yield whole(pieces);
  } catch (error) {
    throw asRunError(folder, shown, error);
  }
}
