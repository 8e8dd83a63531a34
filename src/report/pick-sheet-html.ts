import { gridsOnTray } from "../subsample/tray.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { page } from "./page.ts";
import type { PickSheet, TrayBand } from "./pick-sheet.ts";
import { gridAt, pickRules, TRAY_CAUTIONS, trayBands } from "./pick-sheet.ts";

/** Columns of a tray side by side on a page. */
const MOST_COLUMNS = 20;
/** Rows of one piece of the list of grids. */
const ROWS_OF_LIST = 15;
/** Side of a grid of the picture, in its own units. */
const SIDE = 60;

const STYLE = `
.sheet { border-top: 2px solid var(--line); padding-top: 1rem; margin-top: 2rem; }
.sheet:first-child { border: 0; margin: 0; padding: 0; }
.sheet h2 { margin-top: 0; font-size: 1.4rem; }
.blanks { display: flex; flex-wrap: wrap; gap: .5rem 2rem; margin: .6rem 0; }
.blank::after { content: ""; display: inline-block; width: 9rem; border-bottom: 1px solid var(--ink); margin-left: .4rem; }
.blank.short::after { width: 4rem; }
.work { display: flex; flex-wrap: wrap; gap: 1rem 2rem; align-items: flex-start; }
.tray { flex: 1 1 24rem; max-width: 38rem; }
.tray svg { width: 100%; min-width: 0; display: block; margin-bottom: .5rem; }
.tray rect.grid { fill: none; stroke: var(--ink); stroke-width: 1.5; }
.tray rect.first { fill: var(--band); stroke-width: 3; }
.tray rect.box { fill: var(--ground); stroke: var(--ink); stroke-width: 1.5; }
.tray text { fill: var(--ink); font: 22px system-ui, sans-serif; }
.tray text.turn { font-size: 12px; fill: var(--soft); }
.rules { flex: 1 1 20rem; margin: 0; padding-left: 1.2rem; font-size: .875rem; }
.rules li { margin-bottom: .3rem; }
.lists { display: flex; flex-wrap: wrap; gap: 1rem 1.5rem; align-items: flex-start; margin: .8rem 0; }
.lists table { break-inside: avoid; }
.lists th, .lists td { border: 1px solid var(--line); padding: .2rem .5rem; }
.lists td.write { min-width: 4.5rem; }
.lists td.grid { font-weight: 600; }
.lists tr.first td { background: var(--band); border-color: var(--ink); }
.tick { display: inline-block; width: 1em; height: 1em; border: 1.5px solid var(--ink); vertical-align: -.15em; }
.stop { border-left: .4rem solid var(--bad); padding: .3rem .8rem; font-weight: 600; }
.cautions { font-size: .8rem; margin: .5rem 0; padding-left: 1.2rem; }
.sequence { font-variant-numeric: tabular-nums; margin: .2rem 0 .6rem; overflow-wrap: anywhere; }
@page { margin: 11mm; }
@media print {
.sheet { break-before: page; border: 0; margin: 0; padding: 0; font-size: 9pt; line-height: 1.3; }
.sheet:first-child { break-before: auto; }
.sheet h2 { font-size: 14pt; margin: 0; }
.sheet p { margin: 1mm 0; }
.sheet figure { margin: 0; }
.blanks { margin: 2.5mm 0; }
.work { gap: 4mm; flex-wrap: nowrap; }
.tray { flex: 0 0 95mm; }
figcaption { font-size: 7.5pt; }
.rules { flex: 1 1 auto; font-size: 8pt; }
.rules li { margin-bottom: .5mm; }
.lists { gap: 3mm 6mm; margin: 2mm 0; }
.lists table { font-size: 9pt; }
.lists th, .lists td { padding: .9mm 2mm; }
.lists td.write { min-width: 18mm; }
.cautions { font-size: 7.5pt; margin: 1mm 0; }
}
`;

/** All pick sheets in one page that stands alone; printed, each sample has a page of its own. */
export function pickSheetsPage(sheets: Iterable<PickSheet>): string {
  return page("Pick sheets", html`<main>\n${[...sheets].map(sheetSection)}</main>`, STYLE);
}

function sheetSection(sheet: PickSheet): Html {
  const { tray, order, second, seed, algorithm } = sheet;
  return html`<section class="sheet">
<h2>Pick sheet: sample ${sheet.sampleId}</h2>
<p class="soft">${sheet.facts.map(([label, value], at) => `${at === 0 ? "" : "; "}${label}: ${value}`)}</p>
${sheet.warning === undefined ? undefined : html`<p class="stop">${sheet.warning}</p>\n`}<p class="blanks"><span class="blank">Sorter</span><span class="blank">Date</span><span>Large/rare search done <span class="tick"></span></span></p>
<div class="work">
<figure class="tray">
${trayBands(tray, MOST_COLUMNS).map((band) => trayPicture(sheet, band))}<figcaption>Tray of ${tray.rows} rows and ${tray.columns} columns. Tick each grid when it is picked; the small number is its turn, the grids that are picked in any case are shaded.</figcaption>
</figure>
<ol class="rules">
${pickRules(sheet).map((rule) => html`<li>${rule}</li>\n`)}</ol>
</div>
<div class="lists">
${pieces(order).map((piece) => listTable(piece, leastGrids(sheet)))}</div>
<p>Second tray (${second.tray.rows} rows of ${second.tray.columns}), only if the first is too dense; grids in the order of picking:</p>
<p class="sequence">${second.order.join(" ")}</p>
<p class="blanks"><span class="blank short">Split last grid: grid</span><span class="blank short">parts picked</span><span class="blank short">of</span><span class="blank short">animals</span></p>
<p class="blanks"><span class="blank short">Finished: animals</span><span class="blank short">grids</span><span class="blank">checked by</span></p>
<ul class="cautions">
${TRAY_CAUTIONS.map((caution) => html`<li>${caution}</li>\n`)}</ul>
<p class="soft">Seed ${seed}; ${algorithm}; jartally ${JARTALLY_VERSION}</p>
</section>
`;
}

function leastGrids({ rule, tray }: PickSheet): number {
  return Math.min(rule.atLeast, gridsOnTray(tray));
}

function trayPicture(sheet: PickSheet, { from, to }: TrayBand): Html {
  const { tray } = sheet;
  const turns = turnsOf(sheet.order);
  const least = leastGrids(sheet);
  const cells: Html[] = [];
  for (let row = 1; row <= tray.rows; row++)
    for (let column = from; column <= to; column++) {
      const grid = gridAt(tray, row, column);
      cells.push(gridCell(grid, turns[grid] ?? 0, least, (column - from) * SIDE, (row - 1) * SIDE));
    }
  const width = (to - from + 1) * SIDE;
  const height = tray.rows * SIDE;
  const whole = from === 1 && to === tray.columns;
  const label = `Tray of ${tray.rows} by ${tray.columns} grids${whole ? "" : `, columns ${from} to ${to}`}`;
  // Narrow pieces are not blown up: a grid is never wider on paper than a tenth of the picture's room.
  const share = Math.min(100, (width / SIDE) * 12.5);
  return html`<svg viewBox="-2 -2 ${width + 4} ${height + 4}" style="max-width: ${share}%" role="img" aria-label="${label}">
${cells}</svg>
`;
}

function gridCell(grid: number, turn: number, least: number, x: number, y: number): Html {
  const first = turn <= least ? " first" : "";
  return html`<rect class="grid${first}" x="${x}" y="${y}" width="${SIDE}" height="${SIDE}"/><text x="${x + 6}" y="${y + 26}">${grid}</text><rect class="box" x="${x + 38}" y="${y + 38}" width="16" height="16"/><text class="turn" x="${x + 6}" y="${y + 52}">${turn}</text>
`;
}

/** At the number of each grid its turn, counted from 1. */
function turnsOf(order: readonly number[]): number[] {
  const turns: number[] = [];
  for (const [at, grid] of order.entries()) turns[grid] = at + 1;
  return turns;
}

interface Piece {
  readonly start: number;
  readonly grids: readonly number[];
}

function pieces(order: readonly number[]): Piece[] {
  const starts = Array.from({ length: Math.ceil(order.length / ROWS_OF_LIST) }, (_, at) => at * ROWS_OF_LIST);
  return starts.map((start) => ({ start, grids: order.slice(start, start + ROWS_OF_LIST) }));
}

function listTable({ start, grids }: Piece, least: number): Html {
  return html`<table>
<thead><tr><th scope="col">Turn</th><th scope="col">Grid</th><th scope="col">Done</th><th scope="col">Animals</th><th scope="col">So far</th></tr></thead>
<tbody>
${grids.map((grid, at) => html`<tr${start + at < least ? html` class="first"` : undefined}><td class="number">${start + at + 1}</td><td class="number grid">${grid}</td><td><span class="tick"></span></td><td class="write"></td><td class="write"></td></tr>\n`)}</tbody>
</table>
`;
}
