import type { TextSink } from "./define.ts";

/** Text that is handed on at once. */
const PIECE_LENGTH = 1 << 16;

/** Gathers the small texts of rows, so that a sink is given few large ones. */
export class TextPieces {
  readonly #sink: TextSink;
  #pending = "";

  constructor(sink: TextSink) {
    this.#sink = sink;
  }

  /** Undefined when nothing has to wait. */
  add(text: string): Promise<void> | undefined {
    this.#pending += text;
    return this.#pending.length < PIECE_LENGTH ? undefined : this.#handOn();
  }

  /** Hands on what is held back, here and in the sink. */
  async end(): Promise<void> {
    if (this.#pending !== "") await this.#handOn();
    await this.#sink.flush?.();
  }

  #handOn(): Promise<void> {
    const text = this.#pending;
    this.#pending = "";
    return this.#sink.write(text);
  }
}
