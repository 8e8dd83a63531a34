import type { OpenFile } from "./file-system.ts";
import type { TextSink } from "./formats/define.ts";

/** Bytes that are written at once. */
const PAGE_BYTES = 1 << 17;
/** A unit of UTF-16 takes no more bytes of UTF-8. */
const BYTES_A_UNIT = 3;

/**
 * Gathers text in pages of UTF-8 and writes a page while the next one fills. A failure is told when the next page
 * is handed on, or at the flush.
 */
export class FileSink implements TextSink {
  readonly #file: OpenFile;
  #page = newPage();
  #end = 0;
  #spare: Buffer | undefined;
  #writing: Promise<void> | undefined;

  constructor(file: OpenFile) {
    this.#file = file;
  }

  /** Whole characters: the halves of one that come apart are no text. */
  async write(text: string): Promise<void> {
    if (text.length * BYTES_A_UNIT > PAGE_BYTES - this.#end)
      return this.writeBytes(Buffer.from(text, "utf8"));
    this.#end += this.#page.write(text, this.#end, "utf8");
  }

  async writeBytes(bytes: Uint8Array): Promise<void> {
    for (let at = 0; at < bytes.length; ) {
      if (this.#end === PAGE_BYTES) await this.#handOn();
      const piece = bytes.subarray(at, at + PAGE_BYTES - this.#end);
      this.#page.set(piece, this.#end);
      this.#end += piece.length;
      at += piece.length;
    }
  }

  async flush(): Promise<void> {
    if (this.#end > 0) await this.#handOn();
    await this.#writing;
  }

  async #handOn(): Promise<void> {
    await this.#writing;
    const full = this.#page;
    this.#writing = this.#file.write(full.subarray(0, this.#end));
    // Whoever waits for it next hears of a failure; until then it is nobody's.
    this.#writing.catch(() => {});
    this.#page = this.#spare ?? newPage();
    this.#spare = full;
    this.#end = 0;
  }
}

/** Not of the common pool, which small pieces share. */
function newPage(): Buffer {
  return Buffer.allocUnsafeSlow(PAGE_BYTES);
}
