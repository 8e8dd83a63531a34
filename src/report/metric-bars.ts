import { anchorOf, axisEnds, lineAxis, round, withoutOverlap } from "./axis.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { MetricScale, ReportMetric } from "./report-data.ts";
import { capital, shown } from "./shown.ts";
import { pageTable } from "./table.ts";
import { whisker } from "./whisker.ts";

/** Each metric with its value, its score, and a bar on which its thresholds are drawn. */
export function metricBars(metrics: readonly ReportMetric[], label: string): Html | undefined {
  if (metrics.length === 0) return undefined;
  return html`<h3>Metrics</h3>
<p class="explains">Each bar goes from the worst values (left, empty) to the best (right, full); the lines across it are the thresholds of this stratum, the mark is the value.</p>
${pageTable(
  label,
  [
    { name: "metric", kind: "head" },
    { name: "value", kind: "number" },
    { name: "score", kind: "number" },
    { name: "from worst to best", kind: "wide" },
  ],
  metrics.map((metric) => [metric.name, valueText(metric), scoreText(metric), barCell(metric)]),
)}`;
}

function valueText({ value, unit }: ReportMetric): string {
  return value === undefined
    ? "none"
    : `${shown(value)}${unit === "percent" ? " %" : unit === "" ? "" : ` ${unit}`}`;
}

function scoreText({ score, scale }: ReportMetric): string {
  if (score === undefined) return "";
  return scale === undefined ? shown(score) : `${shown(score)} of ${shown(scale.best)}`;
}

function barCell(metric: ReportMetric): Html {
  const { value, whyMissing, thresholds, scale, interval } = metric;
  const missing = value === undefined ? `${capital(whyMissing)}. ` : "";
  const limits = thresholds.length === 0 ? "no thresholds: the value counts as it is" : thresholds.join("; ");
  const what = scale === undefined || scale.what === "" ? "" : ` They are for ${scale.what}.`;
  return html`${thresholdBar(metric)}<span class="limits">${missing}${capital(limits)}.${what}${interval === undefined ? undefined : ` Interval: ${shown(interval.low)} to ${shown(interval.high)}.`}</span>`;
}

/** Which way a metric gets better along its values; undefined where the best lies between, or nowhere. */
function rises({ steps, worst, best }: MetricScale): boolean | undefined {
  const scores = steps.flatMap(({ scoreAtLower, scoreAtUpper }) => [scoreAtLower, scoreAtUpper]);
  const towards = scores.map((score) => (best >= worst ? score : -score));
  const isRising = towards.every((score, at) => at === 0 || score >= (towards[at - 1] ?? score));
  const isFalling = towards.every((score, at) => at === 0 || score <= (towards[at - 1] ?? score));
  return isRising === isFalling ? undefined : isRising;
}

const TOP = 17;
const HEIGHT = 15;
/** Room for the line of an interval below the bar. */
const WHISKER = 9;

/**
 * The bar of a metric: the line of its values, turned so that the best lie to the right, filled up to the value,
 * with every threshold as a line across it. Where the best lies in the middle nothing is filled.
 */
export function thresholdBar({ name, score, scale, interval: given }: ReportMetric): Html | undefined {
  if (scale === undefined || scale.worst === scale.best) return undefined;
  const { steps, at, what, worst, best } = scale;
  const limits = [...new Set(steps.flatMap(({ lower, upper }) => [lower ?? [], upper ?? []].flat()))];
  const way = rises(scale);
  // An interval is one of the plain value; it has no place on a line of anything else.
  const interval = what === "" ? given : undefined;
  const reach = interval === undefined ? [] : [interval.low, interval.high];
  const [low, high] = axisEnds(limits, [...(at === undefined ? [] : [at]), ...reach], {
    low: steps.some(({ lower }) => lower === undefined),
    high: steps.some(({ upper }) => upper === undefined),
  });
  const axis = way === false ? lineAxis(high, low) : lineAxis(low, high);
  const ends: [number, number] = [axis.at(way === false ? high : low), axis.at(way === false ? low : high)];
  const place = at === undefined ? undefined : axis.at(at);
  const lines = limits.map((limit) => ({ at: axis.at(limit), text: shown(limit) }));
  const mark = place === undefined || at === undefined ? undefined : { at: place, text: shown(at) };
  const side = way === undefined ? "the best lies between" : way ? "higher is better" : "lower is better";
  const text = `${name}${what === "" ? "" : `, ${what}`}: ${at === undefined ? "no value" : shown(at)}${score === undefined ? "" : `, score ${shown(score)}`}${interval === undefined ? "" : `, interval from ${shown(interval.low)} to ${shown(interval.high)}`}; worst score ${shown(worst)}, best ${shown(best)}; thresholds ${limits.map(shown).join(", ")}; ${side}`;
  const bottom = TOP + HEIGHT + (interval === undefined ? 0 : WHISKER);
  return html`<svg class="bar" width="100%" height="${bottom + 18}" role="img" aria-label="${text}" font-size="12" fill="currentColor"><rect x="${ends[0]}%" y="${TOP}" width="${round(ends[1] - ends[0])}%" height="${HEIGHT}" class="track"/>${place === undefined || way === undefined ? undefined : html`<rect x="${ends[0]}%" y="${TOP}" width="${round(place - ends[0])}%" height="${HEIGHT}" class="fill"/>`}${lines.map((one) => html`<line x1="${one.at}%" y1="${TOP - 2}" x2="${one.at}%" y2="${TOP + HEIGHT + 4}" stroke="currentColor"/>`)}${interval === undefined ? undefined : whisker(axis.at(interval.low), axis.at(interval.high), TOP + HEIGHT + 8)}${withoutOverlap(lines).map((one) => html`<text x="${one.at}%" y="${bottom + 16}" text-anchor="${anchorOf(one)}">${one.text}</text>`)}${mark === undefined ? undefined : html`<text x="${mark.at}%" y="11" text-anchor="${anchorOf(mark)}" font-weight="bold">${mark.text}</text><svg x="${mark.at}%" y="${TOP - 4}" width="1" height="${HEIGHT + 8}" overflow="visible"><path d="M0 0v${HEIGHT + 8}" stroke="currentColor" stroke-width="3"/></svg>`}</svg>`;
}
