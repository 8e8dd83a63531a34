import type { TextSink } from "../files/formats/define.ts";

/**
 * Compares text with bytes that are there, piece by piece, instead of writing it. The first difference is kept as
 * the line in which it is.
 */
export class ComparingSink implements TextSink {
  readonly #bytes: Uint8Array;
  #at = 0;
  #line = 1;
  #differsAt: number | undefined;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  async write(text: string): Promise<void> {
    if (this.#differsAt !== undefined) return;
    for (const byte of Buffer.from(text, "utf8")) {
      if (this.#bytes[this.#at] !== byte) {
        this.#differsAt = this.#line;
        return;
      }
      if (byte === 10) this.#line++;
      this.#at++;
    }
  }

  /** Line of the first difference, bytes that are there beyond the text included; undefined when all agree. */
  get differsAt(): number | undefined {
    return this.#differsAt ?? (this.#at < this.#bytes.length ? this.#line : undefined);
  }
}
