import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { indexScale, shown } from "./index-scale.ts";
import { metricBars } from "./metric-bars.ts";
import type { ReportSample } from "./report-data.ts";
import { ratingText } from "./report-text.ts";
import type { ScoredVisit } from "./sites.ts";
import { taxaSection } from "./taxa-section.ts";

/** One sample of a site: rating in plain words, place on the scale, metrics, animals, counting, doubts. */
export function sampleSection({ run, sample }: ScoredVisit, at: number): Html {
  const { sampleId, collectedOn, duplicateOf } = sample;
  return html`<section class="sample" aria-labelledby="sample-${at}">
<h2 id="sample-${at}">Sample ${sampleId}${collectedOn === "" ? "" : `, ${collectedOn}`}</h2>
${duplicateOf === "" ? undefined : html`<p>A field duplicate of ${duplicateOf}: it shows how well sampling repeats and is no part of the site's result.</p>\n`}<p class="verdict">${verdict(sample)}</p>
<p class="soft">Scored with ${run.set.title}, ${run.set.id} ${run.set.version}${sample.stratum === "" ? "" : `, stratum ${sample.stratum}`}.</p>
${indexScale(sample)}${metricBars(sample)}${taxaSection(sample.taxa, run.set.tolerance)}${countingSection(sample)}${doubtsSection(sample)}</section>
`;
}

/** The result in plain words. */
function verdict(sample: ReportSample): Html {
  const { index, rating, classes, next, status } = sample;
  if (status === "refused")
    return html`<strong>Not scored: refused.</strong> Something in the sheet or the log could change the score; it stands below.`;
  if (status === "held-back")
    return html`<strong>Not scored: held back.</strong> Not all jars of the sample are in.`;
  if (index === undefined)
    return html`<strong>No index.</strong> The set gives none for this sample; the metrics below say why.`;
  const own = classes.find((one) => one.rating === rating);
  const near = next === undefined ? "" : ` It lies ${shown(next.distance)} from ${next.rating}.`;
  return html`<strong>${rating === "" ? "No class" : capital(rating)}: index ${shown(index)}.</strong> ${own?.meaning ?? ""}${near}${status === "flagged" ? " There are doubts; they stand below." : ""}`;
}

/** How many animals were counted and how they were drawn. */
function countingSection(sample: ReportSample): Html | undefined {
  if (sample.counted === undefined) return undefined;
  const { fractionSorted } = sample;
  const sorted =
    fractionSorted === undefined
      ? "The log does not say how much of the sample was sorted."
      : `${shown(fractionSorted * 100)} percent of the sample was sorted.`;
  return html`<h3>How the animals were counted</h3>
<p>${sample.counted} animals of the sample count. ${sorted} ${sample.draw}</p>
`;
}

function doubtsSection(sample: ReportSample): Html | undefined {
  const doubts = sample.doubts;
  if (doubts.length === 0) return undefined;
  const words = { error: "error", warning: "doubt", note: "note" } as const;
  return html`<h3>Doubts and notes</h3>
<ul>
${doubts.map(({ severity, code, message, place }) => html`<li><strong>${words[severity]}</strong> ${message} <span class="soft">(${code}, ${place})</span></li>\n`)}</ul>
`;
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** A line of a table for samples of a site. */
export function sampleLine({ run, sample }: ScoredVisit): Html {
  return html`<tr><td>${sample.collectedOn}</td><th scope="row">${sample.sampleId}</th><td>${run.set.id} ${run.set.version}</td><td class="number">${sample.index === undefined ? "none" : shown(sample.index)}</td><td>${ratingText(sample)}</td><td>${sample.duplicateOf === "" ? "" : `field duplicate of ${sample.duplicateOf}`}</td></tr>
`;
}
