import { chartFigure } from "./chart-svg.ts";
import { drawHistory, historyCaption } from "./history-chart.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { indexScale } from "./index-scale.ts";
import { page } from "./page.ts";
import { REPORT_STYLE } from "./report-style.ts";
import {
  cautionsSection,
  intervalText,
  PLAIN_MEANING,
  ratingText,
  roleText,
  summaryText,
} from "./report-text.ts";
import { sampleSection, verdict } from "./sample-section.ts";
import { shown } from "./shown.ts";
import type { ReportSite, ScoredVisit } from "./sites.ts";
import { byDay, bySet, summaryOf } from "./sites.ts";
import { pageTable } from "./table.ts";

/** The page of a site: its newest result, its result over all samples, its history, and every sample. */
export function sitePage(site: ReportSite): string {
  const { visits } = site;
  const newest = visits[0]?.sample;
  const runs = [...new Set(visits.map(({ run }) => run))];
  const title = `${site.isSite ? "Site" : "Sample"} ${site.name}${newest === undefined || newest.waterbody === "" ? "" : `, ${newest.waterbody}`}`;
  const groups = bySet(visits);
  const body = html`<main>
<p class="back"><a href="../index.html">All sites</a></p>
<h1>${title}</h1>
${placeLine(site)}${newestSection(site)}${groups.length > 1 ? html`<p>Its samples were scored with different sets or versions of a set: indices of different sets cannot be compared.</p>\n` : undefined}${groups.map((group, at) => resultSection(site, group, at))}
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

/** The samples of the newest day in plain words, for who reads no further. */
function newestSection({ visits }: ReportSite): Html | undefined {
  const newest = visits[0]?.sample;
  const own = visits.filter(
    ({ sample }) => sample.collectedOn === newest?.collectedOn && sample.duplicateOf === "",
  );
  if (newest === undefined || visits.length < 2 || own.length === 0) return undefined;
  return html`<h2>Newest result${newest.collectedOn === "" ? "" : `, ${newest.collectedOn}`}</h2>
${own.map(({ run, sample }) => html`<p class="verdict">${own.length > 1 ? `${sample.sampleId}: ` : undefined}${verdict(sample)}</p>\n${indexScale(sample, run.set.higherIs)}`)}<p>${PLAIN_MEANING}</p>
`;
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
  const ofSet = set === undefined ? "" : `, ${set.id} ${set.version}`;
  return html`<h2>Result over all samples${ofSet}</h2>
<p><strong>${summary === undefined ? "No index" : `Index ${summaryText(summary)}`}.</strong> The mean has no rating of its own: the classes were made for single samples.</p>
${several.map(({ day, samples }) => {
  const ofDay = summaryOf(samples);
  return ofDay === undefined
    ? undefined
    : html`<p>${day === "" ? "Day not known" : day}: index ${summaryText(ofDay)}.</p>\n`;
})}${
  history.days.length < 2 || summary === undefined
    ? undefined
    : chartFigure(historyCaption(history), (size) => drawHistory(history, `history-${at + 1}-${size}`, size))
}${samplesTable(visits, `Samples of the site${ofSet}`)}`;
}

function samplesTable(visits: readonly ScoredVisit[], label: string): Html {
  const hasIntervals = visits.some(({ sample }) => sample.interval !== undefined);
  return pageTable(
    label,
    [
      { name: "day" },
      { name: "sample", kind: "head" },
      { name: "index", kind: "number" },
      ...(hasIntervals ? [{ name: "interval" }] : []),
      { name: "rating" },
      { name: "note" },
    ],
    visits.map(({ sample }) => [
      sample.collectedOn,
      sample.sampleId,
      sample.index === undefined ? "none" : shown(sample.index),
      ...(hasIntervals ? [intervalText(sample)] : []),
      ratingText(sample),
      roleText(sample),
    ]),
  );
}
