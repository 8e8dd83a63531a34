/** Text for a cell that has to be one line: many readers of exchange tables end a row at a line break in quotes. */
export function oneLine(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is what it is for.
  return text.replace(/[\s\x00-\x1f\x7f-\x9f\u2028\u2029]+/gu, " ").trim();
}

/** Texts in one cell, each once, with the mark between values that Darwin Core recommends. */
export function joined(texts: readonly string[]): string {
  return [...new Set(texts.map(oneLine).filter((text) => text !== ""))].join(" | ");
}
