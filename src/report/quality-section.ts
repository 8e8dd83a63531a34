import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { briefTable, chartFigures, FIRST_TABLE, verdictLine } from "./quality-parts.ts";
import type { StoredQuality } from "./stored-quality.ts";

/**
 * Quality figures beside the results that they stand for: of each check the result, what to do, the control
 * charts, the main table, and the rules that decided.
 */
export function qualitySection(checks: readonly StoredQuality[]): Html | undefined {
  if (checks.length === 0) return undefined;
  return html`<h2 id="quality">Quality figures</h2>
<p class="explains">How well the samples were sorted, identified and repeated. A limit missed asks for a look at the reasons and a note of what was done; it does not reject data by itself.</p>
${checks.map(checkSection)}`;
}

function checkSection(check: StoredQuality, at: number): Html {
  const filled = check.tables.filter(({ rows }) => rows.length > 0);
  const steps = filled.filter(({ id }) => id === FIRST_TABLE);
  const main = filled.filter(({ id }) => id !== FIRST_TABLE).slice(0, 1);
  const table = (one: StoredQuality["tables"][number]) =>
    html`<h4>${one.title}</h4>
<p class="explains">${one.explains}</p>
${briefTable(one, `${check.title} ${at + 1}: ${one.title}`)}`;
  return html`<h3>${check.title}</h3>
${verdictLine(check)}
${steps.map(table)}${chartFigures(check.charts, `quality-${at + 1}`)}${main.map(table)}<ul class="soft">
${check.rules.map((rule) => html`<li>${rule}</li>\n`)}${check.inputs.map(({ file, sha256 }) => html`<li>${file}: SHA-256 <code>${sha256}</code></li>\n`)}</ul>
`;
}
