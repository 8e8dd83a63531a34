import stringWidth from "string-width";

/** Columns a text takes on a terminal. */
export function shownWidth(text: string): number {
  // Plain ASCII, the usual case, needs no tables.
  return /^[ -~]*$/.test(text) ? text.length : stringWidth(text);
}

/** Breaks a text at its blanks into lines of at most a width; a word that is longer is broken where the line ends. */
export function wrapToWidth(text: string, width: number): string[] {
  if (shownWidth(text) <= width || width < 1) return [text];
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ").flatMap((one) => brokenWord(one, width))) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (shownWidth(longer) <= width) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line];
}

/** Broken behind a hyphen, a slash or an underscore where there is one in the second half of the line. */
function brokenWord(word: string, width: number): string[] {
  const parts: string[] = [];
  let rest = word;
  while (shownWidth(rest) > width) {
    let kept = "";
    for (const [character] of rest.matchAll(/.\p{M}*/gsu)) {
      if (kept !== "" && shownWidth(kept + character) > width) break;
      kept += character;
    }
    const joint = Math.max(...["-", "/", "_", ",", ";"].map((mark) => kept.lastIndexOf(mark))) + 1;
    if (joint > kept.length / 2) kept = kept.slice(0, joint);
    parts.push(kept);
    rest = rest.slice(kept.length);
  }
  return rest === "" ? parts : [...parts, rest];
}

/** Fills a text with blanks up to a width. */
export function padToWidth(text: string, width: number, isRight: boolean): string {
  const blanks = " ".repeat(Math.max(0, width - shownWidth(text)));
  return isRight ? `${blanks}${text}` : `${text}${blanks}`;
}
