import type { FindingSink } from "../findings/collector.ts";
import type { FindingCode } from "../findings/register.ts";
import { HashedBytes } from "./digest.ts";
import type { InputFile } from "./input.ts";
import { PackedFileError } from "./packed-file-error.ts";
import { refusedTable, type TableOptions, type TableReading } from "./table-reading.ts";
import { contentKind, SNIFF_BYTES } from "./text/content-kind.ts";
import { openDelimited } from "./text/delimited.ts";
import { requireEncoding } from "./text/encoding.ts";

/**
 * Opens a table: CSV or TSV in any of the usual encodings and line ends, a workbook, either also packed with
 * gzip. The content decides what a file is, never its name. Faults are findings; the table then says that it
 * `isBroken`, and whatever could be read is still given so that other faults can be found.
 *
 * @throws RangeError for an encoding that `knownEncoding` does not know; FileError when the file cannot be read
 */
export async function openTable(
  input: InputFile,
  options: TableOptions,
  findings: FindingSink,
): Promise<TableReading> {
  const declared = options.encoding === undefined ? undefined : requireEncoding(options.encoding);
  const hashed = new HashedBytes(input.chunks());
  const digest = () => hashed.digest(input.name);
  let { head, all } = await peek(hashed);
  let kind = contentKind(head, declared);
  const refuse = (code: FindingCode, message: string, hint?: string) =>
    refusedTable(input.name, digest, findings, code, message, hint);
  if (kind.kind === "gzip") {
    const { unpackGzip } = await import("./gzip.ts");
    const unpacked = unpackGzip(all);
    try {
      ({ head, all } = await peek(unpacked));
    } catch (error) {
      if (error instanceof PackedFileError) return refuse("bad-gzip", error.message);
      throw error;
    }
    kind = contentKind(head, declared);
  }
  switch (kind.kind) {
    case "empty":
      return refuse("empty-file", "the file is empty");
    case "gzip":
      return refuse("not-a-table", "this looks like a file packed with gzip twice", "unpack it once");
    case "other":
      return refuse("not-a-table", `this looks like ${kind.looksLike}, not like a table`);
    case "unmarked-utf-16":
      return refuse(
        "bad-encoding",
        "this looks like UTF-16 without a byte order mark",
        `save the file as UTF-8, or give --encoding ${kind.encoding}`,
      );
    case "workbook": {
      const { openWorkbook } = await import("./workbook/open-workbook.ts");
      return openWorkbook(input, all, digest, findings);
    }
    case "text":
      return openDelimited(input.name, skip(all, kind.markBytes), kind.encoding, digest, findings);
  }
}

/** The first bytes, and all bytes again. */
async function peek(
  source: AsyncIterable<Uint8Array>,
): Promise<{ head: Uint8Array; all: AsyncIterable<Uint8Array> }> {
  const iterator = source[Symbol.asyncIterator]();
  const taken: Uint8Array[] = [];
  let length = 0;
  while (length < SNIFF_BYTES) {
    const step = await iterator.next();
    if (step.done === true) break;
    taken.push(step.value);
    length += step.value.length;
  }
  async function* all(): AsyncGenerator<Uint8Array> {
    yield* taken;
    for (let step = await iterator.next(); step.done !== true; step = await iterator.next()) yield step.value;
  }
  return { head: Buffer.concat(taken).subarray(0, SNIFF_BYTES), all: all() };
}

async function* skip(chunks: AsyncIterable<Uint8Array>, bytes: number): AsyncGenerator<Uint8Array> {
  let left = bytes;
  for await (const chunk of chunks) {
    if (left >= chunk.length) left -= chunk.length;
    else {
      yield left === 0 ? chunk : chunk.subarray(left);
      left = 0;
    }
  }
}
