import { compareCodePoints } from "../model/order.ts";
import { coloursOf, NO_CLASS_COLOUR } from "./class-colours.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { ReportSample } from "./report-data.ts";
import { intervalText, ratingText, roleText, supportText } from "./report-text.ts";
import { shown } from "./shown.ts";
import type { ScoredVisit } from "./sites.ts";
import { bySet } from "./sites.ts";
import { pageTable } from "./table.ts";

/**
 * Every sample that was scored, from the worst index on, with its interval and its doubts. Indices of different
 * sets are not put in one order: each set has a table.
 *
 * @param fileOf the page of each sample's site
 */
export function samplesSection(
  visits: readonly ScoredVisit[],
  fileOf: ReadonlyMap<ReportSample, string>,
): Html {
  const groups = bySet(
    visits.filter(({ sample }) => sample.status === "scored" || sample.status === "flagged"),
  );
  return html`<h2 id="samples">Samples, worst index first</h2>
<p class="explains">How far the index lies from the next class says how easily the rating could be another one.${groups.flat().some(({ sample }) => sample.interval !== undefined) ? " The interval says where repeated counts of the same jar lie, and same rating how many of them got the rating given; the pages of the sites say more." : ""}</p>
${groups.map((group) => samplesTable(group, fileOf, groups.length > 1))}`;
}

function samplesTable(
  visits: readonly ScoredVisit[],
  fileOf: ReadonlyMap<ReportSample, string>,
  isOneOfSeveral: boolean,
): Html {
  const set = visits[0]?.run.set;
  const ofSet = set === undefined ? "" : `, ${set.id} ${set.version}`;
  const hasIntervals = visits.some(({ sample }) => sample.interval !== undefined);
  const rows = [...visits].sort(byResult).map(({ run, sample }) => {
    const { next } = sample;
    return [
      html`<a href="sites/${fileOf.get(sample) ?? ""}">${sample.sampleId}</a>`,
      sample.siteId,
      sample.collectedOn,
      sample.stratum,
      sample.scored === undefined ? "" : String(sample.scored),
      sample.index === undefined ? "none" : shown(sample.index),
      ...(hasIntervals ? [intervalText(sample), supportText(sample)] : []),
      ratingCell(sample, run.set.higherIs),
      next === undefined ? "" : `${shown(next.distance)} to ${next.rating}`,
      [roleText(sample), ...sample.doubtCodes].filter((part) => part !== "").join(", "),
    ];
  });
  return html`${isOneOfSeveral ? html`<h3>${set?.title ?? ""}${ofSet}</h3>\n` : undefined}${pageTable(
    `Samples${ofSet}`,
    [
      { name: "sample", kind: "head" },
      { name: "site" },
      { name: "day" },
      { name: "stratum" },
      { name: "animals", kind: "number" },
      { name: "index", kind: "number" },
      ...(hasIntervals ? [{ name: "interval" }, { name: "same rating", kind: "number" as const }] : []),
      { name: "rating" },
      { name: "to the next class" },
      { name: "doubts", kind: "wide" },
    ],
    rows,
  )}`;
}

/** The rating with a patch of its colour on the index scale. */
function ratingCell(sample: ReportSample, higherIs: "better" | "worse"): Html {
  const colour = coloursOf(sample.classes, higherIs).get(sample.rating) ?? NO_CLASS_COLOUR;
  return html`<span><svg class="patch" width="10" height="10" aria-hidden="true"><rect width="10" height="10" fill="${colour}" stroke="currentColor"/></svg>${ratingText(sample)}</span>`;
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
