/** The text of bytes between two offsets that are known to be valid UTF-8. */
export function textIn(bytes: Uint8Array, from: number, to: number): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset + from, to - from).toString("utf8");
}
