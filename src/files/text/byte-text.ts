/** The text of bytes between two offsets that are known to be valid UTF-8. */
export function textIn(bytes: Uint8Array, from: number, to: number): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset + from, to - from).toString("utf8");
}

const ASCII_END = 128;

/** Whether bytes between two offsets say a text of ASCII; no text with any other character is found so. */
export function saysText(bytes: Uint8Array, from: number, to: number, text: string): boolean {
  if (text.length !== to - from) return false;
  for (let own = 0; own < text.length; own++) {
    const code = text.charCodeAt(own);
    if (code !== bytes[from + own] || code >= ASCII_END) return false;
  }
  return true;
}
