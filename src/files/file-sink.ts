import type { OpenFile } from "./file-system.ts";
import type { TextSink } from "./formats/define.ts";

/** Bytes that are written at once. */
const PAGE_BYTES = 1 << 17;
/** Bytes after which what was written is sent on to the device. */
const SYNC_BYTES = 1 << 23;
/** A unit of UTF-16 takes no more bytes of UTF-8. */
const BYTES_A_UNIT = 3;

/**
 * Gathers text in pages of UTF-8 and writes a page while the next one fills. A failure is told when the next page
 * is handed on, or at the flush. Of a file that is flushed to the device in the end, much is sent there while more is
 * written, so that there is little to wait for then.
 */
export class FileSink implements TextSink {
  readonly #file: OpenFile;
  #page = newPage();
  #end = 0;
  #spare: Buffer | undefined;
  #writing: Promise<void> | undefined;
  readonly #isForDevice: boolean;
  /** Bytes handed on since the device was last asked to take them. */
  #unsynced = 0;
  #syncing: Promise<void> | undefined;
  #isSyncing = false;

  /** @param isForDevice the file is one of a disk, and is flushed to it when all is written */
  constructor(file: OpenFile, isForDevice = false) {
    this.#file = file;
    this.#isForDevice = isForDevice;
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
    await this.#syncing;
  }

  async #handOn(): Promise<void> {
    await this.#writing;
    const full = this.#page;
    this.#writing = this.#file.write(full.subarray(0, this.#end));
    // Whoever waits for it next hears of a failure; until then it is nobody's.
    this.#writing.catch(() => {});
    this.#page = this.#spare ?? newPage();
    this.#spare = full;
    this.#unsynced += this.#end;
    this.#end = 0;
    if (this.#isForDevice && this.#unsynced >= SYNC_BYTES && !this.#isSyncing) this.#syncAhead();
  }

  #syncAhead(): void {
    this.#unsynced = 0;
    this.#isSyncing = true;
    this.#syncing = this.#file.sync().then(() => {
      this.#isSyncing = false;
    });
    // The flush tells of a failure, after which no more is sent: the system tells of it once only.
    this.#syncing.catch(() => {});
  }
}

/** Not of the common pool, which small pieces share. */
function newPage(): Buffer {
  return Buffer.allocUnsafeSlow(PAGE_BYTES);
}
