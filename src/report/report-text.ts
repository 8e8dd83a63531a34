import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { ReportRun, ReportSample } from "./report-data.ts";
import { shown } from "./shown.ts";
import type { IndexSummary } from "./sites.ts";

/** What a rating says and what it does not. */
export const PLAIN_MEANING =
  "A rating says how the animals of the samples compare with what the reference set expects. It does not say that the water is safe to drink or to swim in, nor what caused a low score.";

/** What every page says, whatever it shows. */
export const GENERAL_CAUTIONS = [
  "A score is no legal determination unless the responsible agency's method was followed by qualified people.",
  PLAIN_MEANING,
  "Ethanol burns and formalin harms eyes, skin and lungs: handle samples by their safety data sheets and the local code. Streams are cold, fast and slippery: wade with somebody and only where it is safe. Protected animals are handled under a permit only.",
] as const;

/** The set and what it holds for. */
export function setSection({ set }: ReportRun): Html {
  return html`<h3>${set.title}</h3>
<p>${set.id} ${set.version}. ${set.summary} <strong>How it was checked:</strong> ${set.verification}.</p>
<p><strong>Made for:</strong> ${set.calibratedFor} Outside that region, season, gear and level a score means nothing without the responsible agency's method.</p>
<p class="soft">Hash of everything it used: <code>${set.hash}</code></p>
`;
}

/** Cautions of the sets and of all pages. */
export function cautionsSection(runs: readonly ReportRun[]): Html {
  const all = [...new Set([...runs.flatMap(({ set }) => set.cautions), ...GENERAL_CAUTIONS])];
  return html`<h2 id="cautions">Cautions</h2>
<ul>
${all.map((caution) => html`<li>${caution}</li>\n`)}</ul>
`;
}

/** What stands in place of a rating where there is none. */
export function ratingText({ rating, index, status }: ReportSample): string {
  if (status === "refused") return "refused";
  if (status === "held-back") return "held back";
  if (rating !== "") return rating;
  return index === undefined ? "no index" : "no class";
}

/** "72.5 (mean of 3 samples, from 70 to 75)". */
export function summaryText({ count, mean, least, most }: IndexSummary): string {
  return count === 1
    ? `${shown(mean)} (1 sample)`
    : `${shown(mean)} (mean of the indices of ${count} samples, from ${shown(least)} to ${shown(most)})`;
}

/** What a sample is beside an ordinary one. */
export function roleText({ duplicateOf, replicateOf }: ReportSample): string {
  if (duplicateOf !== "") return `field duplicate of ${duplicateOf}`;
  return replicateOf === "" ? "" : `replicate of ${replicateOf}`;
}

/** "55.2 to 70.1"; empty where no interval was worked out. */
export function intervalText({ interval }: ReportSample): string {
  return interval === undefined ? "" : `${shown(interval.low)} to ${shown(interval.high)}`;
}

/** "rating of 94 % of the draws"; empty where it is not known. */
export function supportText({ interval }: ReportSample): string {
  return interval?.support === undefined ? "" : `${shown(interval.support * 100)} %`;
}
