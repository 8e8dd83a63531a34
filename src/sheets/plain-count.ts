const ZERO_BYTE = 48;
const NINE_BYTE = 57;
/** Of a count that is below the largest whatever its digits are; the reader of records judges longer ones. */
const MOST_DIGITS = 9;

/** Where digits end that begin at an offset. */
export function endOfDigits(bytes: Uint8Array, from: number): number {
  let at = from;
  for (let byte = bytes[at] as number; byte >= ZERO_BYTE && byte <= NINE_BYTE; byte = bytes[++at] as number);
  return at;
}

/** The count of digits between two offsets, as `plainCount` has it; -1 when they need a second look. */
export function countIn(bytes: Uint8Array, from: number, to: number): number {
  const digits = to - from;
  if (digits === 0 || digits > MOST_DIGITS || (digits > 1 && bytes[from] === ZERO_BYTE)) return -1;
  let count = 0;
  for (let at = from; at < to; at++) count = count * 10 + (bytes[at] as number) - ZERO_BYTE;
  return count;
}
