const LINE_FEED = 10;
/** The first block is small: its lines are read with care to find the delimiter and the header. */
const HEAD_BYTES = 1 << 14;
const HEAD_LINES = 64;
/** Bytes without a line end that are held together; more is no table of lines. */
const LONGEST_CARRY = 1 << 20;

/**
 * Hands the bytes of a text on in blocks that end with a line feed, wherever there is one, and takes back what
 * could not be used. Nothing is copied but the line that two chunks share.
 */
export class LineBlocks implements AsyncIterable<Uint8Array> {
  readonly #chunks: AsyncIterator<Uint8Array>;
  readonly #cutsLines: boolean;
  /** Blocks to be handed on before anything else is read, the next one last. */
  readonly #held: Uint8Array[] = [];
  /** The start of a line that has not ended yet. */
  #carry: Uint8Array = new Uint8Array(0);
  #isFirst = true;
  #failure: { readonly error: unknown } | undefined;
  #isEnded = false;

  /** @param cutsLines whether a byte 10 is a line feed in the encoding, whatever stands before it */
  constructor(chunks: AsyncIterable<Uint8Array>, cutsLines: boolean) {
    this.#chunks = chunks[Symbol.asyncIterator]();
    this.#cutsLines = cutsLines;
  }

  /** The next block; undefined at the end. Rejects as the chunks do, after the bytes before the failure. */
  async next(): Promise<Uint8Array | undefined> {
    for (;;) {
      const held = this.#held.pop();
      if (held !== undefined) return held;
      if (this.#failure !== undefined) throw this.#failure.error;
      if (this.#isEnded) return undefined;
      await this.#read();
    }
  }

  /** Takes bytes back; they come again with the next call of `next`. */
  putBack(bytes: Uint8Array): void {
    if (bytes.length > 0) this.#held.push(bytes);
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<Uint8Array> {
    for (let block = await this.next(); block !== undefined; block = await this.next()) yield block;
  }

  async #read(): Promise<void> {
    try {
      const step = await this.#chunks.next();
      if (step.done !== true) {
        this.#take(step.value);
        return;
      }
      this.#isEnded = true;
    } catch (error) {
      this.#failure = { error };
    }
    this.putBack(this.#carry);
    this.#carry = new Uint8Array(0);
  }

  #take(chunk: Uint8Array): void {
    if (!this.#cutsLines) {
      this.putBack(chunk);
      return;
    }
    const end = chunk.lastIndexOf(LINE_FEED) + 1;
    if (end === 0) {
      this.#carry = joined(this.#carry, chunk);
      if (this.#carry.length <= LONGEST_CARRY) return;
      this.putBack(this.#carry);
      this.#carry = new Uint8Array(0);
      return;
    }
    const first = this.#carry.length === 0 ? 0 : chunk.indexOf(LINE_FEED) + 1;
    const shared = joined(this.#carry, chunk.subarray(0, first));
    this.#carry = chunk.slice(end);
    // What is put back last comes first.
    const head = this.#isFirst ? headEnd(chunk, first, end) : first;
    this.putBack(chunk.subarray(head, end));
    this.putBack(chunk.subarray(first, head));
    this.putBack(shared);
    this.#isFirst = false;
  }
}

/** Where the first lines of a chunk end; its last line end when it holds no more than those. */
function headEnd(chunk: Uint8Array, from: number, end: number): number {
  let lines = 0;
  for (let at = from; at < end; at++) {
    if (chunk[at] !== LINE_FEED) continue;
    lines++;
    if (lines >= HEAD_LINES && at - from >= HEAD_BYTES) return at + 1;
  }
  return end;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  return b.length === 0 ? a : Buffer.concat([a, b]);
}
