/** The characters that may part the cells of a row, the likeliest first. */
export const DELIMITERS = [",", ";", "\t"] as const;
export type Delimiter = (typeof DELIMITERS)[number];

/** How many rows are looked at. */
const LOOK_AT = 25;

/**
 * Finds the delimiter of a table by looking at its first rows. Delimiters within quotes do not count. The one
 * that gives the header at least two cells and most of the rows as many as the header wins; then the one that
 * gives the header more cells; then comma, semicolon, tab in that order.
 *
 * @param head the start of the text; may end anywhere
 */
export function findDelimiter(head: string): Delimiter {
  const rows = firstRows(head);
  let best: Delimiter = ",";
  let bestAgreement = -1;
  let bestCells = 1;
  for (const delimiter of DELIMITERS) {
    const cells = rows.map((row) => row[delimiter]);
    const inHeader = cells[0] ?? 1;
    if (inHeader < 2) continue;
    const agreement = cells.filter((count) => count === inHeader).length / cells.length;
    if (agreement > bestAgreement || (agreement === bestAgreement && inHeader > bestCells)) {
      best = delimiter;
      bestAgreement = agreement;
      bestCells = inHeader;
    }
  }
  return best;
}

/** A first line "sep=;" that some spreadsheet programs write to say which delimiter they use. */
export function declaredDelimiter(firstLine: string): Delimiter | undefined {
  const match = /^sep=([,;\t])$/i.exec(firstLine);
  return DELIMITERS.find((delimiter) => delimiter === match?.[1]);
}

/** Cells in each of the first rows that are not blank, for every delimiter. */
function firstRows(head: string): Record<Delimiter, number>[] {
  const rows: Record<Delimiter, number>[] = [];
  let row = { ",": 1, ";": 1, "\t": 1 };
  let isQuoted = false;
  let isBlank = true;
  for (let at = 0; at < head.length && rows.length < LOOK_AT; at++) {
    const character = head[at];
    if (character === '"' && (isQuoted || isCellStart(head, at))) isQuoted = !isQuoted;
    else if (isQuoted) continue;
    else if (character === "\n" || character === "\r") {
      if (!isBlank) rows.push(row);
      row = { ",": 1, ";": 1, "\t": 1 };
      isBlank = true;
      continue;
    } else if (character === "," || character === ";" || character === "\t") row[character]++;
    isBlank = false;
  }
  // A last row that is cut off counts only when it is the only one.
  if (rows.length === 0 && !isBlank) rows.push(row);
  return rows;
}

/** A quote opens only where a cell starts, by whichever of the delimiters. */
function isCellStart(head: string, at: number): boolean {
  return at === 0 || /[,;\t\r\n]/.test(head[at - 1] ?? "");
}
