import { createHash } from "node:crypto";
import { nodeFileSystem } from "./file-system.ts";

/** SHA-256 of bytes or of the UTF-8 bytes of a text, in lower-case hexadecimal (FIPS 180-4). */
export function sha256(content: Uint8Array | string): string {
  return createHash("sha256").update(content).digest("hex");
}

/** A file is read in pieces of this size to be hashed. */
const PIECE_BYTES = 1 << 20;

/**
 * SHA-256 of a file, of which no more than two pieces lie in memory: one is hashed while the next is read.
 *
 * @throws the error of the system when it cannot be read
 */
export async function sha256OfFile(path: string): Promise<string> {
  const hash = createHash("sha256");
  const handle = await nodeFileSystem.openToRead(path);
  try {
    let ahead = Buffer.allocUnsafe(PIECE_BYTES);
    let read = await handle.read(ahead);
    // A small file has been read by now; one more byte is asked for to find its end.
    let spare = Buffer.allocUnsafe(read === PIECE_BYTES ? PIECE_BYTES : 1);
    while (read > 0) {
      const piece = ahead.subarray(0, read);
      const next = handle.read(spare);
      hash.update(piece);
      [ahead, spare] = [spare, ahead];
      read = await next;
    }
  } finally {
    await handle.close();
  }
  return hash.digest("hex");
}

/** What a run records of a file it read. */
export interface FileDigest {
  /** As the user named it. */
  readonly file: string;
  /** Of the bytes as they lie on the disk, packed or not. */
  readonly sha256: string;
  readonly bytes: number;
}

/** Bytes that are counted and hashed while they flow by, so that a file is read once. */
export class HashedBytes implements AsyncIterable<Uint8Array> {
  readonly #source: AsyncIterator<Uint8Array>;
  readonly #hash = createHash("sha256");
  #bytes = 0;
  #ended = false;

  constructor(source: AsyncIterable<Uint8Array>) {
    this.#source = source[Symbol.asyncIterator]();
  }

  /** The chunks that have not been taken yet. Leaving a loop over it early keeps the rest for the next loop. */
  [Symbol.asyncIterator](): AsyncIterator<Uint8Array> {
    return { next: () => this.#next() };
  }

  /** Reads what is left, so that the digest is that of the whole file, and gives the digest. */
  async digest(file: string): Promise<FileDigest> {
    while (!this.#ended) await this.#next();
    return { file, sha256: this.#hash.copy().digest("hex"), bytes: this.#bytes };
  }

  async #next(): Promise<IteratorResult<Uint8Array>> {
    const step = await this.#source.next();
    if (step.done === true) {
      this.#ended = true;
      return { done: true, value: undefined };
    }
    this.#hash.update(step.value);
    this.#bytes += step.value.length;
    return { done: false, value: step.value };
  }
}
