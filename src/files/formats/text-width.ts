import stringWidth from "string-width";

/** Columns a text takes on a terminal. */
export function shownWidth(text: string): number {
  // Plain ASCII, the usual case, needs no tables.
  return /^[ -~]*$/.test(text) ? text.length : stringWidth(text);
}

/** Cuts a text to a width; what was cut is marked by … at the end. */
export function cutToWidth(text: string, width: number): string {
  if (shownWidth(text) <= width) return text;
  if (width < 1) return "";
  let kept = "";
  let used = 0;
  // Marks that stand on the character before them go with it.
  for (const [character] of text.matchAll(/.\p{M}*/gsu)) {
    const wide = shownWidth(character);
    if (used + wide > width - 1) break;
    kept += character;
    used += wide;
  }
  return `${kept}…`;
}

/** Fills a text with blanks up to a width. */
export function padToWidth(text: string, width: number, isRight: boolean): string {
  const blanks = " ".repeat(Math.max(0, width - shownWidth(text)));
  return isRight ? `${blanks}${text}` : `${text}${blanks}`;
}
