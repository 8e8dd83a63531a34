/** What a byte of a plain line means. */
export const TEXT = 0;
export const DELIMITER = 1;
export const LINE_FEED = 2;
export const CARRIAGE_RETURN = 3;
/** Lines with quotation marks are not plain. */
export const QUOTE = 4;

export const FEED_BYTE = 10;
export const RETURN_BYTE = 13;

/** The meaning of every byte. */
export function byteMeanings(delimiter: number): Uint8Array {
  const meaning = new Uint8Array(256);
  meaning[FEED_BYTE] = LINE_FEED;
  meaning[RETURN_BYTE] = CARRIAGE_RETURN;
  meaning[34] = QUOTE;
  meaning[delimiter] = DELIMITER;
  return meaning;
}

/** Where a text ends that begins at an offset; a line feed must be ahead. */
export function endOfText(bytes: Uint8Array, from: number, meaning: Uint8Array): number {
  let at = from;
  while (meaning[bytes[at] as number] === TEXT) at++;
  return at;
}

/**
 * Where the next cell begins, or the next line behind the last cell; -1 when something else stands there than what
 * ends such a cell.
 *
 * @param at where the text of a cell ends
 */
export function afterCell(bytes: Uint8Array, at: number, meaning: Uint8Array, isLast: boolean): number {
  const what = meaning[bytes[at] as number];
  if (!isLast) return what === DELIMITER ? at + 1 : -1;
  if (what === CARRIAGE_RETURN) return bytes[at + 1] === FEED_BYTE ? at + 2 : -1;
  return what === LINE_FEED ? at + 1 : -1;
}

/** The same bytes as an array of one kind, which is quicker to read than a mixture with buffers. */
export function plainBytes(bytes: Uint8Array): Uint8Array {
  return new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.length);
}

/**
 * Where the same bytes end that stand between two offsets further above; -1 where others stand.
 *
 * @param length of the view, which it takes long to say itself
 */
export function endOfSame(view: DataView, length: number, from: number, above: number, end: number): number {
  const to = from + end - above;
  if (to <= from || to > length) return -1;
  let at = from;
  let own = above;
  for (; at + 4 <= to; at += 4, own += 4) if (view.getInt32(own) !== view.getInt32(at)) return -1;
  for (; at < to; at++, own++) if (view.getUint8(own) !== view.getUint8(at)) return -1;
  return at;
}
