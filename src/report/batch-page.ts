import { compareCodePoints } from "../model/order.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { shown } from "./index-scale.ts";
import { page } from "./page.ts";
import type { ReportRun, ReportSample } from "./report-data.ts";
import { REPORT_STYLE } from "./report-style.ts";
import { cautionsSection, doubtCodes, ratingText, setSection, summaryText } from "./report-text.ts";
import type { ReportSite, ScoredVisit } from "./sites.ts";
import { bySet, summaryOf } from "./sites.ts";

/** The page of one or more runs: what was scored and how, ratings, sites, every sample, what was not scored. */
export function batchPage(runs: readonly ReportRun[], sites: readonly ReportSite[], title: string): string {
  const visits = sites.flatMap(({ visits: ofSite }) => ofSite);
  const fileOf = new Map(
    sites.flatMap((site) => site.visits.map(({ sample }) => [sample, site.file] as const)),
  );
  const groups = bySet(visits);
  const notScored = visits.filter(
    ({ sample }) => sample.status === "refused" || sample.status === "held-back",
  );
  const scored = visits.length - notScored.length;
  const body = html`<main>
<h1>${title}</h1>
<p>${count(visits.length, "sample")} of ${count(sites.length, "site")}; ${scored} scored, ${notScored.length} refused or held back.${groups.length > 1 ? " They were scored with different sets or versions of a set: indices of different sets cannot be compared." : ""}</p>
<h2>Reference set</h2>
${groups.flatMap(([first]) => (first === undefined ? [] : [setSection(first.run)]))}
${groups.map(ratingsSection)}
${sitesSection(sites)}
${samplesSection(visits, fileOf)}
${notScoredSection(notScored)}
<h2>Runs and files</h2>
<ul>
${runs.map((run) => html`<li>${run.name}: seed ${run.seed}<ul>${run.inputs.map(({ file, rows, sha256 }) => html`<li>${file}: ${count(rows, "row")}, SHA-256 <code class="hash">${sha256}</code></li>\n`)}</ul></li>\n`)}</ul>
${cautionsSection(runs)}
<p class="soft">jartally ${JARTALLY_VERSION}</p>
</main>`;
  return page(title, body, STYLE);
}

const STYLE = `${REPORT_STYLE}code.hash { overflow-wrap: anywhere; }\n`;

/** Counts of ratings, whole and by stratum. */
function ratingsSection(visits: readonly ScoredVisit[]): Html {
  const samples = visits.map(({ sample }) => sample);
  const strata = [...new Set(samples.map(({ stratum }) => stratum))].sort(compareCodePoints);
  const order = ratingsInOrder(visits);
  const cells = (of: readonly ReportSample[]) =>
    order.map(
      (rating) => html`<td class="number">${of.filter((one) => ratingText(one) === rating).length}</td>`,
    );
  const title = visits[0]?.run.set.title ?? "";
  return html`<h2>Ratings</h2>
<p class="explains">Samples by stratum and rating, scored with ${title}.</p>
<div class="wide" tabindex="0" role="region" aria-label="Ratings by stratum"><table aria-label="Ratings by stratum">
<thead><tr><th scope="col">stratum</th>${order.map((rating) => html`<th scope="col" class="number">${rating}</th>`)}<th scope="col" class="number">samples</th></tr></thead>
<tbody>
${strata.map((stratum) => {
  const own = samples.filter((one) => one.stratum === stratum);
  return html`<tr><th scope="row">${stratum === "" ? "not known" : stratum}</th>${cells(own)}<td class="number">${own.length}</td></tr>\n`;
})}<tr><th scope="row">all</th>${cells(samples)}<td class="number">${samples.length}</td></tr>
</tbody></table></div>
`;
}

/** Ratings from best to worst, then whatever stands in place of one. */
function ratingsInOrder(visits: readonly ScoredVisit[]): string[] {
  const found = new Set(visits.map(({ sample }) => ratingText(sample)));
  const classes = visits.flatMap(({ run, sample }) => {
    const names = sample.classes.map(({ rating }) => rating);
    return run.set.higherIs === "better" ? names.reverse() : names;
  });
  const ordered = [...new Set(classes)];
  return [...ordered, ...[...found].filter((rating) => !ordered.includes(rating)).sort(compareCodePoints)];
}

function sitesSection(sites: readonly ReportSite[]): Html {
  return html`<h2 id="sites">Sites</h2>
<p class="explains">The result of a site is the mean of the indices of its samples; field duplicates are left out of it. The newest rating is that of single samples.</p>
<div class="wide" tabindex="0" role="region" aria-label="Sites"><table aria-label="Sites">
<thead><tr><th scope="col">site</th><th scope="col">water</th><th scope="col">newest day</th><th scope="col">newest rating</th><th scope="col">index over all samples</th></tr></thead>
<tbody>
${sites.map((site) => {
  const newest = site.visits[0]?.sample;
  const sameDay = site.visits.filter(({ sample }) => sample.collectedOn === newest?.collectedOn);
  const ratings = [...new Set(sameDay.map(({ sample }) => ratingText(sample)))];
  const results = bySet(site.visits).map((visits) => {
    const summary = summaryOf(visits.map(({ sample }) => sample));
    const set = visits[0]?.run.set;
    return `${summary === undefined ? "no index" : summaryText(summary)}${set === undefined ? "" : `, ${set.id} ${set.version}`}`;
  });
  return html`<tr><th scope="row"><a href="sites/${site.file}">${site.name}</a></th><td>${newest?.waterbody ?? ""}</td><td>${newest?.collectedOn ?? ""}</td><td>${ratings.join(", ")}</td><td>${results.join("; ")}</td></tr>
`;
})}</tbody></table></div>
`;
}

function samplesSection(visits: readonly ScoredVisit[], fileOf: ReadonlyMap<ReportSample, string>): Html {
  const sorted = visits
    .filter(({ sample }) => sample.status === "scored" || sample.status === "flagged")
    .sort(byResult);
  return html`<h2 id="samples">Samples, worst index first</h2>
<p class="explains">How far the index lies from the next class says how easily the rating could be another one.</p>
<div class="wide" tabindex="0" role="region" aria-label="Samples"><table aria-label="Samples">
<thead><tr><th scope="col">sample</th><th scope="col">site</th><th scope="col">day</th><th scope="col">stratum</th><th scope="col">set</th><th scope="col" class="number">animals</th><th scope="col" class="number">index</th><th scope="col">rating</th><th scope="col">to the next class</th><th scope="col">doubts</th></tr></thead>
<tbody>
${sorted.map(({ run, sample }) => {
  const { next } = sample;
  return html`<tr><th scope="row"><a href="sites/${fileOf.get(sample) ?? ""}">${sample.sampleId}</a></th><td>${sample.siteId}</td><td>${sample.collectedOn}</td><td>${sample.stratum}</td><td>${run.set.id} ${run.set.version}</td><td class="number">${sample.scored ?? ""}</td><td class="number">${sample.index === undefined ? "none" : shown(sample.index)}</td><td>${ratingText(sample)}</td><td>${next === undefined ? "" : `${shown(next.distance)} to ${next.rating}`}</td><td class="long">${[...(sample.duplicateOf === "" ? [] : [`field duplicate of ${sample.duplicateOf}`]), ...doubtCodes(sample)].join(", ")}</td></tr>
`;
})}</tbody></table></div>
`;
}

function byResult(a: ScoredVisit, b: ScoredVisit): number {
  const worse = (visit: ScoredVisit) => {
    const { index } = visit.sample;
    if (index === undefined) return Number.NEGATIVE_INFINITY;
    return visit.run.set.higherIs === "better" ? index : -index;
  };
  const [x, y] = [worse(a), worse(b)];
  return (x === y ? 0 : x < y ? -1 : 1) || compareCodePoints(a.sample.sampleId, b.sample.sampleId);
}

function notScoredSection(visits: readonly ScoredVisit[]): Html | undefined {
  if (visits.length === 0) return undefined;
  return html`<h2 id="not-scored">Refused or held back</h2>
<p class="explains">These samples have no score. Refused: the sheet or the log has a fault that could change the score. Held back: not all jars are in.</p>
<div class="wide" tabindex="0" role="region" aria-label="Refused or held back"><table aria-label="Refused or held back">
<thead><tr><th scope="col">sample</th><th scope="col">site</th><th scope="col">status</th><th scope="col">why</th></tr></thead>
<tbody>
${visits.map(({ sample }) => html`<tr><th scope="row">${sample.sampleId}</th><td>${sample.siteId}</td><td>${ratingText(sample)}</td><td class="long">${reasons(sample)}</td></tr>\n`)}</tbody></table></div>
`;
}

function reasons({ doubts }: ReportSample): string {
  const grave = doubts.filter(({ severity }) => severity !== "note");
  return grave.map(({ place, message }) => `${message} (${place})`).join("; ");
}

function count(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? "" : "s"}`;
}
