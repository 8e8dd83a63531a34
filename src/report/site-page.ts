import { describeHistory, drawHistory } from "./history-chart.ts";
import { Html, html } from "./html.ts";
import { page } from "./page.ts";
import { REPORT_STYLE } from "./report-style.ts";
import { cautionsSection, summaryText } from "./report-text.ts";
import { sampleLine, sampleSection } from "./sample-section.ts";
import type { ReportSite, ScoredVisit } from "./sites.ts";
import { byDay, bySet, summaryOf } from "./sites.ts";

/** The page of a site: its result over all samples, its history, and every sample from the newest on. */
export function sitePage(site: ReportSite): string {
  const { visits } = site;
  const newest = visits[0]?.sample;
  const runs = [...new Set(visits.map(({ run }) => run))];
  const title = `${site.isSite ? "Site" : "Sample"} ${site.name}${newest === undefined || newest.waterbody === "" ? "" : `, ${newest.waterbody}`}`;
  const groups = bySet(visits);
  const body = html`<main>
<p><a href="../index.html">All sites</a></p>
<h1>${title}</h1>
${placeLine(site)}${groups.length > 1 ? html`<p>Its samples were scored with different sets or versions of a set: indices of different sets cannot be compared.</p>\n` : undefined}${groups.map((group, at) => resultSection(site, group, at))}
${visits.map((visit, at) => sampleSection(visit, at + 1))}
${cautionsSection(runs)}
<p class="soft">jartally ${JARTALLY_VERSION}</p>
</main>`;
  return page(title, body, REPORT_STYLE);
}

function placeLine({ visits }: ReportSite): Html | undefined {
  const place = visits.find(({ sample }) => sample.place !== undefined)?.sample.place;
  if (place === undefined) return undefined;
  const blurred = place.isBlurred ? ", rounded to 0.1 degree because protected animals were found here" : "";
  return html`<p class="soft">Latitude ${place.latitude}, longitude ${place.longitude}${blurred}.</p>\n`;
}

/** The site's result with one set: all samples together, day by day, and the single samples. */
function resultSection(site: ReportSite, visits: readonly ScoredVisit[], at: number): Html {
  const set = visits[0]?.run.set;
  const summary = summaryOf(visits.map(({ sample }) => sample));
  const days = byDay(visits);
  const history = {
    name: site.name,
    days: [...days].reverse().filter(({ day }) => day !== ""),
    classes: visits.find(({ sample }) => sample.classes.length > 0)?.sample.classes ?? [],
  };
  const several = days.filter(({ samples }) => (summaryOf(samples)?.count ?? 0) > 1);
  return html`<h2>Result over all samples${set === undefined ? "" : `, ${set.id} ${set.version}`}</h2>
<p class="verdict"><strong>${summary === undefined ? "No index" : `Index ${summaryText(summary)}`}.</strong> The mean has no rating of its own: the classes were made for single samples.</p>
${several.map(({ day, samples }) => {
  const ofDay = summaryOf(samples);
  return ofDay === undefined
    ? undefined
    : html`<p>${day === "" ? "Day not known" : day}: index ${summaryText(ofDay)}.</p>\n`;
})}<div class="wide" tabindex="0" role="region" aria-label="Samples of the site"><table aria-label="Samples of the site">
<thead><tr><th scope="col">day</th><th scope="col">sample</th><th scope="col">set</th><th scope="col" class="number">index</th><th scope="col">rating</th><th scope="col">note</th></tr></thead>
<tbody>
${visits.map(sampleLine)}</tbody></table></div>
${
  history.days.length < 2 || summary === undefined
    ? undefined
    : html`<figure><figcaption>${describeHistory(history)} Circles: index of the day, or the mean where there are several samples; triangles: the least and the most of them; dashed lines: where classes begin.</figcaption>
<div class="wide" tabindex="0" role="region" aria-label="Index over time">
${new Html(drawHistory(history, `history-${at + 1}`))}
</div></figure>`
}
`;
}
