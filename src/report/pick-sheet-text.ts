import { visibleText } from "../files/visible-text.ts";
import type { Tray } from "../subsample/tray.ts";
import type { PickSheet } from "./pick-sheet.ts";
import { gridAt, pickRules, TRAY_CAUTIONS, trayBands } from "./pick-sheet.ts";

const WIDTH = 78;
/** Columns of a tray side by side; each takes 9 characters. */
const MOST_COLUMNS = 8;

/** The pick sheet of one sample as plain text of 78 columns, for any printer. */
export function pickSheetText(sheet: PickSheet): string {
  const { tray, order, second, seed, algorithm } = sheet;
  const facts = sheet.facts.map(([label, value]) => `${label}: ${visibleText(value)}`);
  return `${[
    `PICK SHEET   sample ${visibleText(sheet.sampleId)}`,
    ...wrapped(facts.join("; "), ""),
    ...(sheet.warning === undefined ? [] : ["", ...wrapped(`STOP: ${visibleText(sheet.warning)}`, "")]),
    "",
    "Sorter ____________________   Date ______________   Large/rare done [ ]",
    "",
    `Tray of ${tray.rows} rows x ${tray.columns} columns, ${order.length} grids`,
    ...picture(tray),
    "",
    ...pickRules(sheet).flatMap((rule) => wrapped(rule, "- ")),
    "",
    "First tray: grids in the order of picking",
    ...lines(order),
    "",
    `Second tray (${second.tray.rows} x ${second.tray.columns}), only if the first is too dense`,
    ...wrapped(second.order.join(" "), "  "),
    "",
    "Split last grid: grid ____   parts picked ____ of ____   animals ____",
    "Finished: animals ________   grids ________   checked by ________________",
    "",
    ...TRAY_CAUTIONS.flatMap((caution) => wrapped(caution, "! ")),
    "",
    `Seed ${seed}; ${algorithm}; jartally ${JARTALLY_VERSION}`,
  ]
    .map((line) => line.trimEnd())
    .join("\n")}\n`;
}

/** All sheets, each on a page of its own (form feed between them). */
export function pickSheetsText(sheets: Iterable<PickSheet>): string {
  return [...sheets].map(pickSheetText).join("\f");
}

function picture(tray: Tray): string[] {
  const bands = trayBands(tray, MOST_COLUMNS);
  return bands.flatMap(({ from, to }) => {
    const line = `+${"--------+".repeat(to - from + 1)}`;
    const title = bands.length === 1 ? [] : [`columns ${from} to ${to}`];
    const rows = Array.from({ length: tray.rows }, (_, at) => {
      let row = "|";
      for (let column = from; column <= to; column++)
        row += `${String(gridAt(tray, at + 1, column)).padStart(4)}[ ] |`;
      return [row, line];
    });
    return [...title, line, ...rows.flat()];
  });
}

/** Three columns, read downwards. */
function lines(order: readonly number[]): string[] {
  const digits = Math.max(2, String(order.length).length);
  const cells = order.map(
    (grid, at) => `${String(at + 1).padStart(digits)}. grid ${String(grid).padEnd(digits)} [ ] _____`,
  );
  const height = Math.ceil(cells.length / 3);
  return Array.from({ length: height }, (_, row) =>
    [row, row + height, row + 2 * height].map((at) => (cells[at] ?? "").padEnd(26)).join(""),
  );
}

function wrapped(text: string, mark: string): string[] {
  const lines: string[] = [];
  let line = mark;
  const indent = " ".repeat(mark.length);
  for (const word of text.split(" ")) {
    if (line.length + word.length > WIDTH && line.trim() !== mark.trim()) {
      lines.push(line);
      line = indent;
    }
    line += `${word} `;
  }
  return text === "" ? [] : [...lines, line];
}
