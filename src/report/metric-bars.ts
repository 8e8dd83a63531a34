import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { shown } from "./index-scale.ts";
import type { ReportMetric, ReportSample } from "./report-data.ts";

/** Each metric with its value, its score as a bar from worst to best, and the thresholds behind it. */
export function metricBars({ metrics }: ReportSample): Html | undefined {
  if (metrics.length === 0) return undefined;
  return html`<h3>Metrics</h3>
<p class="explains">Each bar goes from the worst score (left, empty) to the best (right, full) that the metric can get in this stratum.</p>
<div class="wide" tabindex="0" role="region" aria-label="Metrics"><table aria-label="Metrics">
<thead><tr><th scope="col">metric</th><th scope="col" class="number">value</th><th scope="col">unit</th><th scope="col" class="number">score</th><th scope="col">from worst to best</th><th scope="col">thresholds (value: score)</th></tr></thead>
<tbody>
${metrics.map(row)}</tbody>
</table></div>
`;
}

function row(metric: ReportMetric): Html {
  const { name, unit, value, whyMissing, score, thresholds } = metric;
  return html`<tr><th scope="row">${name}</th><td class="number">${value === undefined ? "none" : shown(value)}</td><td>${unit}</td><td class="number">${score === undefined ? "" : shown(score)}</td><td>${bar(metric)}</td><td class="long">${value === undefined ? `${whyMissing}. ` : ""}${thresholds.length === 0 ? "no thresholds: the value counts as it is" : thresholds.join("; ")}</td></tr>
`;
}

const WIDTH = 160;

function bar({ name, score, scores }: ReportMetric): Html | undefined {
  if (score === undefined || scores === undefined) return undefined;
  const { worst, best } = scores;
  if (worst === best) return undefined;
  const share = Math.min(1, Math.max(0, (score - worst) / (best - worst)));
  const text = `${name}: score ${shown(score)}, where ${shown(worst)} is the worst and ${shown(best)} the best`;
  return html`<svg class="bar" viewBox="0 0 ${WIDTH} 14" width="${WIDTH}" height="14" role="img" aria-label="${text}"><rect x="0.5" y="0.5" width="${WIDTH - 1}" height="13" fill="none" stroke="currentColor"/><rect x="0.5" y="0.5" width="${Math.round(share * (WIDTH - 1) * 100) / 100}" height="13" class="fill"/></svg>`;
}
