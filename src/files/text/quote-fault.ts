/** What is wrong with the quoting of a text, and where. Offsets count UTF-16 units. */
export interface QuoteFault {
  /** A quote within a cell that did not start with one; text behind a closing quote; a quote never closed. */
  readonly kind: "stray" | "after-closing" | "unclosed";
  /** Where the record with the fault starts. */
  readonly recordStart: number;
  /** The quote itself; for an unclosed one the quote that opens. */
  readonly at: number;
  /** 1-based number of the cell in its record. */
  readonly field: number;
}

/**
 * Finds the first fault in the quoting of a text (RFC 4180, section 2, rules 5 to 7), so that a message can name
 * the line where a quote opens and not the end of the file, where its absence shows.
 *
 * @param text starts at the start of a record
 */
export function findQuoteFault(text: string, delimiter: string): QuoteFault | undefined {
  let recordStart = 0;
  let field = 1;
  let at = 0;
  while (at < text.length) {
    // Here a cell starts.
    if (text[at] === '"') {
      const opening = at;
      at = closingQuote(text, at + 1);
      if (at < 0) return { kind: "unclosed", recordStart, at: opening, field };
      at++;
      const next = text[at];
      if (next !== undefined && next !== delimiter && next !== "\n" && next !== "\r")
        return { kind: "after-closing", recordStart, at, field };
    } else {
      while (at < text.length && text[at] !== delimiter && text[at] !== "\n" && text[at] !== "\r") {
        if (text[at] === '"') return { kind: "stray", recordStart, at, field };
        at++;
      }
    }
    if (text[at] === delimiter) {
      field++;
      at++;
      continue;
    }
    if (text[at] === "\r" && text[at + 1] === "\n") at++;
    at++;
    recordStart = at;
    field = 1;
  }
  return undefined;
}

/** The quote that closes a cell; two quotes in a row stand for one. -1 when there is none. */
function closingQuote(text: string, from: number): number {
  for (let at = text.indexOf('"', from); at >= 0; at = text.indexOf('"', at + 2)) {
    if (text[at + 1] !== '"') return at;
  }
  return -1;
}
