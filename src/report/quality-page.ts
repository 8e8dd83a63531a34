import type { OutputColumn } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import type { ControlChart } from "../quality/control-chart.ts";
import type { Outcome } from "../quality/judgement.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { page } from "./page.ts";
import { briefTable, chartFigures, FIRST_TABLE, figuresTable, verdictLine } from "./quality-parts.ts";
import type { QualityTable } from "./quality-table.ts";

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

/** The page of a quality check: result, what to do, charts, tables, rules, inputs, cautions. */
export function qualityPage(report: QualityReport): string {
  const shown = report.tables.filter((table) => table.rows.length > 0);
  const body = html`<main>
<h1>${report.title}</h1>
${verdictLine(report)}
${shown.filter(({ id }) => id === FIRST_TABLE).map(tableSection)}
${report.charts.length === 0 ? undefined : html`<h2>Control charts</h2>\n${chartFigures(report.charts, "chart")}`}
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
  const file = `${table.id}.csv`;
  return html`<h2 id="${table.id}">${table.title}</h2>
<p class="explains">${table.explains} All columns and digits: <a href="${file}">${file}</a>.</p>
${briefTable(table, table.title)}
`;
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
${figuresTable(columns, rows, "Findings")}
`;
}
