const ASCII = 128;
/** As the first of a text such a character may start a formula. */
const SLOW_IN_FRONT = 1;
/** May need quotes. */
const SLOW = 2;
/** What an ASCII character means to a row; 0 is plain, and any other character is slow. */
const MEANING = new Uint8Array(ASCII);
for (const character of "'=+-@") MEANING[character.charCodeAt(0)] = SLOW_IN_FRONT;
for (const character of '"\r\n,\t') MEANING[character.charCodeAt(0)] = SLOW;

/** What `putPlainCell` gives for a text that is not plain. */
export const NOT_PLAIN = -1;

/**
 * Puts a text of plain ASCII, which needs neither quotes nor a guard, into a row of delimited text.
 *
 * @param isText the column is one of text, whose cells are guarded against formulas
 * @param bytes have room for a byte a character from `at` on
 * @returns the place behind it; NOT_PLAIN when another character was met, with anything behind `at`
 */
export function putPlainCell(text: string, isText: boolean, bytes: Uint8Array, at: number): number {
  if (isText && text.length > 0 && MEANING[text.charCodeAt(0)] === SLOW_IN_FRONT) return NOT_PLAIN;
  for (let own = 0; own < text.length; own++) {
    const code = text.charCodeAt(own);
    if (code >= ASCII || MEANING[code] === SLOW) return NOT_PLAIN;
    bytes[at + own] = code;
  }
  return at + text.length;
}
