const LINE_FEED = 10;
const QUOTE = 34;
const COMMA = 44;
const ZERO = 48;
/** Digits of the largest whole number that a run holds. */
export const MOST_DIGITS = 10;

/**
 * Finds where the cells of a line end. A line of a run is plain where none of its cells is in quotation marks.
 *
 * @param ends of each cell, to be filled; as long as the table is wide
 * @returns where the line ends; -1 when it is not plain, or has too few or many cells
 */
export function endsOfCells(bytes: Uint8Array, start: number, ends: Int32Array): number {
  let cells = 0;
  let at = start;
  for (; at < bytes.length; at++) {
    const byte = bytes[at] as number;
    // Most bytes are letters and digits.
    if (byte > COMMA) continue;
    if (byte === COMMA) {
      if (cells === ends.length) return -1;
      ends[cells++] = at;
    } else if (byte === LINE_FEED) break;
    else if (byte === QUOTE) return -1;
  }
  if (cells !== ends.length - 1) return -1;
  ends[cells] = at;
  return at;
}

/** The whole number between two offsets, as a run writes it; -1 where something else stands there. */
export function wholeIn(bytes: Uint8Array, from: number, to: number): number {
  if (to <= from || to > from + MOST_DIGITS || (to > from + 1 && bytes[from] === ZERO)) return -1;
  let number = 0;
  for (let at = from; at < to; at++) {
    const digit = (bytes[at] as number) - ZERO;
    if (digit < 0 || digit > 9) return -1;
    number = number * 10 + digit;
  }
  return number;
}
