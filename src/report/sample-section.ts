import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { indexScale } from "./index-scale.ts";
import { metricBars } from "./metric-bars.ts";
import type { ReportDetail, ReportSample } from "./report-data.ts";
import { capital, shown } from "./shown.ts";
import type { ScoredVisit } from "./sites.ts";
import { taxaSection } from "./taxa-section.ts";

/** One sample of a site: rating in plain words, place on the scale, metrics, animals, counting, doubts. */
export function sampleSection({ run, sample }: ScoredVisit, at: number): Html {
  const { sampleId, collectedOn, duplicateOf, replicateOf } = sample;
  const detail = run.detailOf(sample);
  const name = `sample ${sampleId}`;
  return html`<section class="sample" aria-labelledby="sample-${at}">
<h2 id="sample-${at}">Sample ${sampleId}${collectedOn === "" ? "" : `, ${collectedOn}`}</h2>
${duplicateOf === "" ? undefined : html`<p>A field duplicate of ${duplicateOf}: it shows how well sampling repeats and is no part of the site's result.</p>\n`}${replicateOf === "" ? undefined : html`<p>A replicate of ${replicateOf}: both stand for the same visit.</p>\n`}<p class="verdict">${verdict(sample)}</p>
<p class="soft">Scored with ${run.set.title}, ${run.set.id} ${run.set.version}${sample.stratum === "" ? "" : `, stratum ${sample.stratum}`}.</p>
${indexScale(sample, run.set.higherIs)}${sample.interval === undefined ? undefined : html`<p class="explains">${sample.interval.about}</p>\n`}${metricBars(detail.metrics, `Metrics of ${name}`)}${taxaSection(detail.taxa, run.set.tolerance, `Taxa of ${name}`)}${countingSection(detail)}${doubtsSection(detail)}</section>
`;
}

/** The result of a sample in plain words. */
export function verdict(sample: ReportSample): Html {
  const { index, rating, classes, next, status } = sample;
  if (status === "refused")
    return html`<strong>Not scored: refused.</strong> Something in the sheet or the log could change the score; it stands below.`;
  if (status === "held-back")
    return html`<strong>Not scored: held back.</strong> Not all jars of the sample are in.`;
  if (index === undefined)
    return html`<strong>No index.</strong> The set gives none for this sample; the metrics below say why.`;
  const own = classes.find((one) => one.rating === rating);
  const near = next === undefined ? "" : ` It lies ${shown(next.distance)} from ${next.rating}.`;
  return html`<strong>${rating === "" ? "No class" : capital(rating)}: index ${shown(index)}.</strong> ${own?.meaning ?? ""}${near}${intervalSentence(sample)}${status === "flagged" ? " There are doubts; they stand below." : ""}`;
}

/** How sure the index and its rating are, in two sentences. */
function intervalSentence({ interval, rating }: ReportSample): string {
  if (interval === undefined) return "";
  const { low, high, what, support, nextRating } = interval;
  const ends = ` How sure: the ${what} goes from ${shown(low)} to ${shown(high)}.`;
  if (support === undefined || rating === "") return ends;
  const next = nextRating === "" ? "" : `; the next most likely rating is ${nextRating}`;
  return `${ends} Of the repeated draws, ${shown(support * 100)} percent came out ${rating} too${next}.`;
}

/** How many animals were counted and how they were drawn. */
function countingSection({ counted, fractionSorted, draw }: ReportDetail): Html | undefined {
  if (counted === undefined) return undefined;
  const sorted =
    fractionSorted === undefined
      ? "The log does not say how much of the sample was sorted."
      : `${shown(fractionSorted * 100)} percent of the sample was sorted.`;
  return html`<h3>How the animals were counted</h3>
<p>${counted} animals of the sample count. ${sorted} ${draw}</p>
`;
}

function doubtsSection({ doubts }: ReportDetail): Html | undefined {
  if (doubts.length === 0) return undefined;
  const words = { error: "error", warning: "doubt", note: "note" } as const;
  return html`<h3>Doubts and notes</h3>
<ul>
${doubts.map(({ severity, code, message, place }) => html`<li><strong>${words[severity]}</strong> ${message} <span class="soft">(${code}, ${place})</span></li>\n`)}</ul>
`;
}
