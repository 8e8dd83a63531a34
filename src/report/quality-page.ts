import type { Cell, OutputColumn, OutputRow } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import { exactOf } from "../model/exact.ts";
import type { ControlChart } from "../quality/control-chart.ts";
import { figureText } from "../quality/figure-text.ts";
import type { Outcome } from "../quality/judgement.ts";
import { chartFigure } from "./chart-svg.ts";
import { describeControlChart, drawControlChart } from "./control-chart.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { page } from "./page.ts";
import type { QualityTable } from "./quality-table.ts";
import type { PageCell } from "./table.ts";
import { pageTable } from "./table.ts";

/** What a page of quality figures shows. */
export interface QualityReport {
  readonly title: string;
  readonly outcome: Outcome;
  /** The result in a line. */
  readonly summary: string;
  readonly rules: readonly string[];
  readonly tables: readonly QualityTable[];
  readonly charts: readonly ControlChart[];
  readonly findings: readonly Finding[];
  readonly inputs: readonly { readonly file: string; readonly sha256: string; readonly rows: number }[];
}

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
const FIRST_TABLE = "steps";

/** The page of a quality check: result, what to do, charts, tables, rules, inputs, cautions. */
export function qualityPage(report: QualityReport): string {
  const shown = report.tables.filter((table) => table.rows.length > 0);
  const body = html`<main>
<h1>${report.title}</h1>
<p class="verdict ${report.outcome}"><strong>${VERDICTS[report.outcome]}</strong> ${sentence(report.summary)}</p>
${shown.filter(({ id }) => id === FIRST_TABLE).map(tableSection)}
${report.charts.length === 0 ? undefined : html`<h2>Control charts</h2>\n${report.charts.map((chart, at) => chartFigure(describeControlChart(chart), (size) => drawControlChart(chart, `chart-${at + 1}-${size}`, size)))}`}
${shown.filter(({ id }) => id !== FIRST_TABLE).map(tableSection)}
${findingsSection(report.findings)}
<h2>Rules and sources</h2>
<ul>
${report.rules.map((rule) => html`<li>${rule}</li>\n`)}</ul>
<h2>Files read</h2>
<ul>
${report.inputs.map((input) => html`<li>${input.file}: ${input.rows} ${input.rows === 1 ? "row" : "rows"}, SHA-256 <code>${input.sha256}</code></li>\n`)}</ul>
<h2>Cautions</h2>
<ul>
<li>A limit missed asks for a look at the reasons and a note of what was done; it does not reject data by itself. A score is no legal determination unless the responsible agency's method was followed by qualified people.</li>
<li>Residues and vials lie in ethanol or formalin: ethanol burns, formalin harms eyes, skin and lungs. Work with ventilation, away from flames and sparks, with gloves and eye protection, by the safety data sheets and the local code.</li>
</ul>
<p class="soft">jartally ${JARTALLY_VERSION}; the tables are beside this page as CSV.</p>
</main>`;
  return page(report.title, body);
}

function tableSection(table: QualityTable): Html {
  const kept = table.columns.flatMap((column, at) => (table.brief.includes(column.name) ? [at] : []));
  const columns = kept.flatMap((at) => table.columns[at] ?? []);
  const rows = table.rows.map((row) => kept.map((at) => row[at] ?? null));
  const file = `${table.id}.csv`;
  return html`<h2 id="${table.id}">${table.title}</h2>
<p class="explains">${table.explains} All columns and digits: <a href="${file}">${file}</a>.</p>
${tableOf(columns, rows, table.title)}
`;
}

function tableOf(columns: readonly OutputColumn[], rows: readonly OutputRow[], name: string): Html {
  const lengths = columns.map((_, at) => Math.max(...rows.map((row) => shownCell(row[at] ?? null).length)));
  const longest = lengths.indexOf(Math.max(...lengths, LONG + 1));
  return pageTable(
    name,
    columns.map(({ name: column, kind }, at) => ({
      name: heading(column),
      kind: kind === "number" ? "number" : at === longest ? "wide" : "text",
    })),
    rows.map((row) => columns.map((column, at) => cellOf(column, row[at] ?? null))),
  );
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

function findingsSection(findings: readonly Finding[]): Html | undefined {
  const columns: OutputColumn[] = ["place", "severity", "code", "message", "hint"].map((name) => ({
    name,
    kind: "text",
  }));
  if (findings.length === 0) return undefined;
  const rows = findings.map(({ file, line, column, severity, code, message, hint }) => [
    `${file}:${line}:${column}`,
    severity,
    code,
    message,
    hint,
  ]);
  return html`<h2 id="findings">Findings</h2>
<p class="explains">Everything the check had to say, with file, line and field; also in <a href="findings.csv">findings.csv</a>.</p>
${tableOf(columns, rows, "Findings")}
`;
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
