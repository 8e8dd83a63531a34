import type { Html } from "./html.ts";
import { html } from "./html.ts";
import { page } from "./page.ts";
import { qualitySection } from "./quality-section.ts";
import { ratingsSection } from "./ratings-section.ts";
import type { ReportRun, ReportSample } from "./report-data.ts";
import { REPORT_STYLE } from "./report-style.ts";
import { cautionsSection, ratingText, setSection, summaryText } from "./report-text.ts";
import { samplesSection } from "./samples-section.ts";
import { countText } from "./shown.ts";
import type { ReportSite, ScoredVisit } from "./sites.ts";
import { bySet, summaryOf } from "./sites.ts";
import type { StoredQuality } from "./stored-quality.ts";
import { pageTable } from "./table.ts";

/** The page of one or more runs: what was scored and how, ratings, sites, every sample, what was not scored, quality figures. */
export function batchPage(
  runs: readonly ReportRun[],
  sites: readonly ReportSite[],
  title: string,
  quality: readonly StoredQuality[] = [],
): string {
  const visits = sites.flatMap(({ visits: ofSite }) => ofSite);
  const fileOf = new Map<ReportSample, string>(
    sites.flatMap((site) => site.visits.map(({ sample }) => [sample, site.file] as const)),
  );
  const groups = bySet(visits);
  const notScored = visits.filter(
    ({ sample }) => sample.status === "refused" || sample.status === "held-back",
  );
  const scored = visits.length - notScored.length;
  const body = html`<main>
<h1>${title}</h1>
<p>${countText(visits.length, "sample")} of ${countText(sites.length, "site")}; ${scored} scored, ${notScored.length} refused or held back.${groups.length > 1 ? " They were scored with different sets or versions of a set: indices of different sets cannot be compared." : ""}</p>
<h2>Reference set</h2>
${groups.flatMap(([first]) => (first === undefined ? [] : [setSection(first.run)]))}
${groups.map(ratingsSection)}
${sitesSection(sites)}
${samplesSection(visits, fileOf)}
${notScoredSection(notScored)}
${qualitySection(quality)}
<h2>Runs and files</h2>
<ul>
${runs.map((run) => html`<li>${run.name}: seed ${run.seed}<ul>${run.inputs.map(({ file, rows, sha256 }) => html`<li>${file}: ${countText(rows, "row")}, SHA-256 <code>${sha256}</code></li>\n`)}</ul></li>\n`)}</ul>
${cautionsSection(runs)}
<p class="soft">jartally ${JARTALLY_VERSION}</p>
</main>`;
  return page(title, body, REPORT_STYLE);
}

function sitesSection(sites: readonly ReportSite[]): Html {
  return html`<h2 id="sites">Sites</h2>
<p class="explains">The result of a site is the mean of the indices of its samples; field duplicates are left out of it. The newest rating is that of single samples.</p>
${pageTable(
  "Sites",
  [
    { name: "site", kind: "head" },
    { name: "water" },
    { name: "newest day" },
    { name: "newest rating" },
    { name: "index over all samples" },
  ],
  sites.map((site) => {
    const newest = site.visits[0]?.sample;
    const sameDay = site.visits.filter(({ sample }) => sample.collectedOn === newest?.collectedOn);
    const ratings = [...new Set(sameDay.map(({ sample }) => ratingText(sample)))];
    return [
      html`<a href="sites/${site.file}">${site.name}</a>`,
      newest?.waterbody ?? "",
      newest?.collectedOn ?? "",
      ratings.join(", "),
      resultText(site),
    ];
  }),
)}`;
}

/** The result of a site with every set that scored it; the set is named only where there are several. */
function resultText({ visits }: ReportSite): string {
  const groups = bySet(visits);
  const results = groups.map((own) => {
    const summary = summaryOf(own.map(({ sample }) => sample));
    const set = own[0]?.run.set;
    const ofSet = set === undefined || groups.length === 1 ? "" : `, ${set.id} ${set.version}`;
    return `${summary === undefined ? "no index" : summaryText(summary)}${ofSet}`;
  });
  return results.join("; ");
}

function notScoredSection(visits: readonly ScoredVisit[]): Html | undefined {
  if (visits.length === 0) return undefined;
  return html`<h2 id="not-scored">Refused or held back</h2>
<p class="explains">These samples have no score. Refused: the sheet or the log has a fault that could change the score. Held back: not all jars are in.</p>
${pageTable(
  "Refused or held back",
  [{ name: "sample", kind: "head" }, { name: "site" }, { name: "status" }, { name: "why", kind: "wide" }],
  visits.map(({ sample }) => [sample.sampleId, sample.siteId, ratingText(sample), sample.whyNot]),
)}`;
}
