import type { TextSink } from "../files/formats/define.ts";

const FEED_BYTE = 10;

/**
 * Compares text with bytes that are there, piece by piece, instead of writing it. The first difference is kept as
 * the line in which it is.
 */
export class ComparingSink implements TextSink {
  readonly #bytes: Uint8Array;
  /** Offset up to which all agree. */
  #at = 0;
  #differs = false;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  async write(text: string): Promise<void> {
    await this.writeBytes(Buffer.from(text, "utf8"));
  }

  async writeBytes(bytes: Uint8Array): Promise<void> {
    if (this.#differs) return;
    const there = this.#bytes.subarray(this.#at, this.#at + bytes.length);
    if (Buffer.compare(bytes, there) === 0) {
      this.#at += bytes.length;
      return;
    }
    this.#differs = true;
    let alike = 0;
    while (alike < there.length && there[alike] === bytes[alike]) alike++;
    this.#at += alike;
  }

  /** Line of the first difference, bytes that are there beyond the text included; undefined when all agree. */
  get differsAt(): number | undefined {
    if (!this.#differs && this.#at === this.#bytes.length) return undefined;
    let line = 1;
    for (let at = 0; at < this.#at; at++) if (this.#bytes[at] === FEED_BYTE) line++;
    return line;
  }
}
