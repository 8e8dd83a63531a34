/** A place in a text; offsets count UTF-16 units. */
export interface QuotePlace {
  /** Where the record starts. */
  readonly recordStart: number;
  /** The quote itself; for one that is never closed the quote that opens. */
  readonly at: number;
  /** 1-based number of the cell in its record. */
  readonly field: number;
}

/** What a look at the quotes of a text shows. */
export interface QuoteScan {
  /** The first fault after which cells cannot be told apart: a quote never closed, text behind a closing quote. */
  readonly fault: (QuotePlace & { readonly kind: "unclosed" | "after-closing" }) | undefined;
  /** Quotes in cells that do not start with one (`5" net`) before that fault; they are meant as they stand. */
  readonly stray: { readonly count: number; readonly first: QuotePlace | undefined };
  /** Stretches of whole records before that fault; those that are not quoted have no quote in them. */
  readonly stretches: readonly Stretch[];
}

/** Records of a text that follow each other. */
export interface Stretch {
  readonly start: number;
  end: number;
  readonly isQuoted: boolean;
}

/** Records without a quote are not worth a stretch between two others where they are shorter than this. */
const SHORT_STRETCH = 256;

/**
 * Looks at the quotes of a text (RFC 4180, section 2, rules 5 to 7), so that a message can name the line where a
 * quote opens and not the end of the file, where its absence shows.
 *
 * @param text starts at the start of a record
 */
export function scanQuotes(text: string, delimiter: string): QuoteScan {
  let recordStart = 0;
  let field = 1;
  let at = 0;
  let count = 0;
  let first: QuotePlace | undefined;
  let isQuoted = false;
  const stretches: Stretch[] = [];
  let last: Stretch | undefined;
  const result = (fault: QuoteScan["fault"]): QuoteScan => ({ fault, stray: { count, first }, stretches });
  while (at < text.length) {
    // Here a cell starts.
    if (text[at] === '"') {
      const opening = at;
      isQuoted = true;
      at = closingQuote(text, at + 1);
      if (at < 0) return result({ kind: "unclosed", recordStart, at: opening, field });
      at++;
      const next = text[at];
      if (next !== undefined && next !== delimiter && next !== "\n" && next !== "\r")
        return result({ kind: "after-closing", recordStart, at, field });
    } else {
      while (at < text.length && text[at] !== delimiter && text[at] !== "\n" && text[at] !== "\r") {
        if (text[at] === '"') {
          first ??= { recordStart, at, field };
          count++;
          isQuoted = true;
        }
        at++;
      }
    }
    if (text[at] === delimiter) {
      field++;
      at++;
      continue;
    }
    if (text[at] === "\r" && text[at + 1] === "\n") at++;
    at = Math.min(at + 1, text.length);
    last = withRecord(stretches, last, recordStart, at, isQuoted);
    recordStart = at;
    field = 1;
    isQuoted = false;
  }
  if (recordStart < text.length) withRecord(stretches, last, recordStart, text.length, isQuoted);
  return result(undefined);
}

/** Lengthens the last stretch by a record, or starts another one with it. Gives the last stretch then. */
function withRecord(
  stretches: Stretch[],
  last: Stretch | undefined,
  start: number,
  end: number,
  isQuoted: boolean,
): Stretch {
  if (last?.isQuoted === isQuoted) {
    last.end = end;
    return last;
  }
  const before = stretches.at(-2);
  if (last === undefined || before === undefined || !isQuoted || last.end - last.start >= SHORT_STRETCH) {
    const next = { start, end, isQuoted };
    stretches.push(next);
    return next;
  }
  stretches.pop();
  before.end = end;
  return before;
}

/** The quote that closes a cell; two quotes in a row stand for one. -1 when there is none. */
function closingQuote(text: string, from: number): number {
  for (let at = text.indexOf('"', from); at >= 0; at = text.indexOf('"', at + 2)) {
    if (text[at + 1] !== '"') return at;
  }
  return -1;
}
