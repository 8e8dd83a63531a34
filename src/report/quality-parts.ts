import type { Cell, OutputColumn, OutputRow } from "../files/formats/define.ts";
import { exactOf } from "../model/exact.ts";
import type { ControlChart } from "../quality/control-chart.ts";
import { figureText } from "../quality/figure-text.ts";
import type { Outcome } from "../quality/judgement.ts";
import { chartFigure } from "./chart-svg.ts";
import { describeControlChart, drawControlChart } from "./control-chart.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { QualityTable } from "./quality-table.ts";
import { capital } from "./shown.ts";
import type { PageCell, PageColumn } from "./table.ts";
import { pageTable } from "./table.ts";

const VERDICTS: Readonly<Record<Outcome, string>> = {
  pass: "All figures are within their limits.",
  fail: "At least one limit is missed.",
  undecided: "At least one figure is exactly at a limit that the rule leaves open; somebody has to decide.",
  "not-computable": "No figure could be computed.",
};

/** Words of outcome columns, which are coloured beside being words. */
const TONES: ReadonlyMap<string, string> = new Map([
  ["pass", "pass"],
  ["same", "pass"],
  ["fail", "fail"],
  ["differs", "fail"],
  ["refused", "fail"],
  ["undecided", "fail"],
]);

/** What to do comes before what was found; the other tables follow in their order. */
export const FIRST_TABLE = "steps";

/** The result of a check in plain words. */
export function verdictLine({
  outcome,
  summary,
}: {
  readonly outcome: Outcome;
  readonly summary: string;
}): Html {
  return html`<p class="verdict ${outcome}"><strong>${VERDICTS[outcome]}</strong> ${capital(summary)}.</p>`;
}

/** Control charts; their parts are named after `id`, unlike others of the page. */
export function chartFigures(charts: readonly ControlChart[], id: string): Html[] {
  return charts.map((chart, at) =>
    chartFigure(describeControlChart(chart), (size) =>
      drawControlChart(chart, `${id}-${at + 1}-${size}`, size),
    ),
  );
}

/** The columns of a table that a person looks at first. */
export function briefTable({ columns, brief, rows }: QualityTable, label: string): Html {
  const kept = columns.flatMap((column, at) => (brief.includes(column.name) ? [at] : []));
  return figuresTable(
    kept.flatMap((at) => columns[at] ?? []),
    rows.map((row) => kept.map((at) => row[at] ?? null)),
    label,
  );
}

/** A table of figures, rounded for the eye, with outcomes told apart by words and colour. */
export function figuresTable(
  columns: readonly OutputColumn[],
  rows: readonly OutputRow[],
  name: string,
): Html {
  const lengths = columns.map((_, at) => Math.max(...rows.map((row) => shownCell(row[at] ?? null).length)));
  const longest = lengths.indexOf(Math.max(...lengths, LONG + 1));
  return pageTable(
    name,
    columns.map(({ name: column, kind }, at) => ({
      name: heading(column),
      kind: kindOf(kind, at, longest),
    })),
    rows.map((row) => columns.map((column, at) => cellOf(column, row[at] ?? null))),
  );
}

/** What stands first, a sample or a sorter, names the row: on a narrow screen it heads the card. */
function kindOf(kind: OutputColumn["kind"], at: number, longest: number): NonNullable<PageColumn["kind"]> {
  if (kind === "number") return "number";
  if (at === longest) return "wide";
  return at === 0 ? "head" : "text";
}

/** Abbreviations that are written in capitals. */
const CAPITALS = /\b(?:rpd|ptd|pde|pta|ptc|sd|cv)\b/g;

function heading(name: string): string {
  return name.replaceAll("_", " ").replace(CAPITALS, (word) => word.toUpperCase());
}

/** A column with a longer text takes what room there is. */
const LONG = 40;

function cellOf(column: OutputColumn, cell: Cell): PageCell {
  const content = shownCell(cell);
  const tone = typeof cell === "string" && column.name.endsWith("outcome") ? TONES.get(cell) : undefined;
  return tone === undefined ? content : { content, tone };
}

function shownCell(cell: Cell): string {
  if (cell === null) return "";
  return typeof cell === "number" ? figureText(exactOf(cell)) : cell;
}
