import { Readable } from "node:stream";
import { createGunzip } from "node:zlib";
import { PackedFileError } from "./packed-file-error.ts";

/** Most bytes that a packed file may unpack to. */
export const LARGEST_UNPACKED = 2 ** 30;

/**
 * Unpacks gzip (RFC 1952), also several members behind each other, piece by piece.
 *
 * @param limit most bytes that may come out
 * @throws PackedFileError when the data are damaged, cut off, or larger than the limit
 */
export async function* unpackGzip(
  chunks: AsyncIterable<Uint8Array>,
  limit = LARGEST_UNPACKED,
): AsyncGenerator<Uint8Array> {
  const source = Readable.from(chunks, { objectMode: true });
  const gunzip = createGunzip({ chunkSize: 1 << 18 });
  source.on("error", (error) => gunzip.destroy(error));
  source.pipe(gunzip);
  let length = 0;
  try {
    for await (const chunk of gunzip) {
      const bytes: Uint8Array = chunk;
      length += bytes.length;
      if (length > limit)
        throw new PackedFileError(`it unpacks to more than ${limit / 2 ** 20} MiB; unpack it first`);
      yield bytes;
    }
  } catch (error) {
    throw asPackedFileError(error);
  } finally {
    source.unpipe(gunzip);
    source.destroy();
    gunzip.destroy();
  }
}

function asPackedFileError(error: unknown): unknown {
  if (!(error instanceof Error) || !("code" in error) || typeof error.code !== "string") return error;
  if (!error.code.startsWith("Z_")) return error;
  return new PackedFileError(
    error.code === "Z_BUF_ERROR"
      ? "the packed file is cut off"
      : `the packed file is damaged (${error.message})`,
    { cause: error },
  );
}
