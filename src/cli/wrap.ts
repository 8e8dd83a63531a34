/** Breaks a text into lines of at most `width` characters at its spaces; line ends in it are kept. */
export function wrap(text: string, width: number): string[] {
  return text.split("\n").flatMap((paragraph) => {
    const lines: string[] = [];
    let line = "";
    for (const word of paragraph.split(" ")) {
      if (line !== "" && line.length + 1 + word.length > width) {
        lines.push(line);
        line = word;
      } else line = line === "" ? word : `${line} ${word}`;
    }
    return [...lines, line];
  });
}

/** A two-column list: terms on the left, wrapped explanations on the right, at most `width` wide. */
export function definitionList(
  items: readonly (readonly [string, string])[],
  width: number,
  indent = 2,
): string {
  const widest = Math.min(28, Math.max(0, ...items.map(([term]) => term.length)));
  const left = indent + widest + 2;
  return items
    .map(([term, explanation]) => {
      const lines = wrap(explanation, width - left);
      const head = " ".repeat(indent) + term;
      const rest = lines.map((line) => " ".repeat(left) + line);
      if (head.length + 2 > left) return [head, ...rest].join("\n");
      return [head.padEnd(left) + (lines[0] ?? ""), ...rest.slice(1)].join("\n");
    })
    .join("\n");
}
