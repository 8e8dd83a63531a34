/** What a look at the XML of a sheet shows before its cells are read. */
export interface SheetScan {
  /** The same XML, with the errors of formulas as texts so that they are not read as blanks. */
  readonly xml: string;
  /** Rows and columns up to the last cell that is written down. */
  readonly rows: number;
  readonly columns: number;
  readonly formulas: { readonly count: number; readonly first: CellPlace | undefined };
  /** Cells whose formula was never worked out, so that they seem blank. */
  readonly unsolved: { readonly count: number; readonly first: CellPlace | undefined };
}

/** A cell by its 1-based row and column, and as a spreadsheet calls it. */
export interface CellPlace {
  readonly row: number;
  readonly column: number;
  readonly name: string;
}

/** A cell with its content, or a cell without; a row or column may be large without any content. */
const CELL = /<(?:\w+:)?c\s([^>]*?)(?:\/>|>([\s\S]*?)<\/(?:\w+:)?c>)/g;

/** Looks through the cells of a sheet (ECMA-376 part 1, 18.3.1.4). */
export function scanSheet(xml: string): SheetScan {
  let rows = 0;
  let columns = 0;
  let formulas = 0;
  let firstFormula: CellPlace | undefined;
  let unsolved = 0;
  let firstUnsolved: CellPlace | undefined;
  let hasErrors = false;
  for (const match of xml.matchAll(CELL)) {
    const attributes = match[1] ?? "";
    const content = match[2] ?? "";
    const place = placeOf(attributes);
    if (place !== undefined) {
      if (place.row > rows) rows = place.row;
      if (place.column > columns) columns = place.column;
    }
    if (/\bt\s*=\s*["']e["']/.test(attributes)) hasErrors = true;
    if (!/<(?:\w+:)?f[\s/>]/.test(content)) continue;
    formulas++;
    firstFormula ??= place;
    if (/<(?:\w+:)?v[\s>]/.test(content)) continue;
    unsolved++;
    firstUnsolved ??= place;
  }
  return {
    xml: hasErrors ? xml.replace(/(<(?:\w+:)?c\s[^>]*?\bt\s*=\s*)(["'])e\2/g, "$1$2str$2") : xml,
    rows,
    columns,
    formulas: { count: formulas, first: firstFormula },
    unsolved: { count: unsolved, first: firstUnsolved },
  };
}

function placeOf(attributes: string): CellPlace | undefined {
  const match = /(?:^|\s)r\s*=\s*["']([A-Z]{1,3})(\d{1,7})["']/.exec(attributes);
  if (match?.[1] === undefined || match[2] === undefined) return undefined;
  let column = 0;
  for (const letter of match[1]) column = column * 26 + letter.charCodeAt(0) - 64;
  return { row: Number(match[2]), column, name: `${match[1]}${match[2]}` };
}
