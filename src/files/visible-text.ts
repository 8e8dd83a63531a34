// biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is what it is for.
const HIDDEN = /[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/g;

/**
 * Text as it may be shown on a terminal: control characters, escapes, line separators and characters that turn
 * the direction of writing or cannot be seen are written out (`\x1b`, `\n`, `\u202e`), so that a name on a sheet
 * can neither command the terminal nor look like another name.
 */
export function visibleText(text: string): string {
  return text.replace(HIDDEN, (character) => {
    if (character === "\n") return "\\n";
    if (character === "\r") return "\\r";
    if (character === "\t") return "\\t";
    const hex = character.charCodeAt(0).toString(16);
    return hex.length <= 2 ? `\\x${hex.padStart(2, "0")}` : `\\u${hex.padStart(4, "0")}`;
  });
}

/** A message as it may be shown: in one line, made visible, and cut where it repeats a word without end. */
export function oneLine(text: string, longest = 1000): string {
  return visibleText(text.length > longest ? `${text.slice(0, longest - 1)}…` : text);
}

/** A cell as messages show it: in quotes, made visible, cut to a length that fits a line. */
export function quoted(text: string, longest = 60): string {
  // No more is looked at than can be shown, since a cell may be as long as a file.
  const units = [...text.slice(0, 2 * longest + 2)];
  const cut = units.length > longest ? `${units.slice(0, longest - 1).join("")}…` : text;
  return `"${visibleText(cut)}"`;
}
