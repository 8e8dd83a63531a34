const QUOTE = 34;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;

/** Where in a cell the text stands: at its start, within, within quotes, behind a quote that may close it. */
type State = "start" | "within" | "quoted" | "closing";

/** Finds where records end in text that comes in pieces: a line end within quotes ends none. */
export class RecordEnds {
  readonly #delimiter: number;
  #state: State = "start";

  constructor(delimiter: string) {
    this.#delimiter = delimiter.charCodeAt(0);
  }

  /** The offset behind the last record that ends in this piece of text, -1 when none does. */
  last(text: string): number {
    if (text === "") return -1;
    if (this.#state !== "quoted" && !text.includes('"')) {
      const unit = text.charCodeAt(text.length - 1);
      this.#state = this.#endsCell(unit) ? "start" : "within";
      return lastLineEnd(text);
    }
    return this.#scan(text);
  }

  #scan(text: string): number {
    let state = this.#state;
    let end = -1;
    for (let at = 0; at < text.length; at++) {
      const unit = text.charCodeAt(at);
      if (state === "quoted") {
        if (unit === QUOTE) state = "closing";
        continue;
      }
      if (unit === QUOTE) {
        // A quote opens only at the start of a cell; behind a quote it stands for itself.
        if (state !== "within") state = "quoted";
        continue;
      }
      state = this.#endsCell(unit) ? "start" : "within";
      // A carriage return at the very end may be the first half of a line end.
      const isLineEnd =
        unit === LINE_FEED ||
        (unit === CARRIAGE_RETURN && at + 1 < text.length && text.charCodeAt(at + 1) !== LINE_FEED);
      if (isLineEnd) end = at + 1;
    }
    this.#state = state;
    return end;
  }

  #endsCell(unit: number): boolean {
    return unit === this.#delimiter || unit === LINE_FEED || unit === CARRIAGE_RETURN;
  }
}

/** The offset behind the last line end of a text without quotes, -1 when there is none. */
function lastLineEnd(text: string): number {
  const feed = text.lastIndexOf("\n");
  let back = text.lastIndexOf("\r");
  // A carriage return at the very end may be the first half of a line end.
  if (back === text.length - 1) back = back > 0 ? text.lastIndexOf("\r", back - 1) : -1;
  return Math.max(feed, back) + 1 || -1;
}
