import { compareCodePoints } from "../model/order.ts";
import { chartFigure } from "./chart-svg.ts";
import { coloursOf, NO_CLASS_COLOUR } from "./class-colours.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { RatingCounts } from "./ratings-chart.ts";
import { drawRatings } from "./ratings-chart.ts";
import { ratingText } from "./report-text.ts";
import type { ScoredVisit } from "./sites.ts";
import { pageTable } from "./table.ts";

/** Ratings by stratum, of samples scored with one set: a chart, and the same as a table. */
export function ratingsSection(visits: readonly ScoredVisit[], at: number): Html {
  const { title = "", id = "", version = "" } = visits[0]?.run.set ?? {};
  const counts = ratingCounts(visits);
  const { strata, ratings } = counts;
  const total = (row: readonly number[]) => row.reduce((sum, count) => sum + count, 0);
  const rows = strata.map((stratum, column) => {
    const own = counts.counts.map((row) => row[column] ?? 0);
    return [stratum, ...own, total(own)];
  });
  const sums = counts.counts.map(total);
  return html`<h2>Ratings by stratum</h2>
${chartFigure(`Samples by stratum and rating, scored with ${title}; the best to the left.`, (size) => drawRatings(counts, `ratings-${at + 1}-${size}`, size))}${pageTable(
  `Ratings by stratum, ${id} ${version}`,
  [
    { name: "stratum", kind: "head" },
    ...ratings.map(({ rating }) => ({ name: rating, kind: "number" as const })),
    { name: "samples", kind: "number" },
  ],
  [...rows, ["all", ...sums, total(sums)]],
)}`;
}

/** How many samples of each stratum have each rating. */
export function ratingCounts(visits: readonly ScoredVisit[]): RatingCounts {
  const ids = [...new Set(visits.map(({ sample }) => sample.stratum))].sort(compareCodePoints);
  const ratings = ratingsInOrder(visits);
  const table = ratings.map(() => ids.map(() => 0));
  for (const { sample } of visits) {
    const row = table[ratings.findIndex(({ rating }) => rating === ratingText(sample))];
    const column = ids.indexOf(sample.stratum);
    if (row !== undefined) row[column] = (row[column] ?? 0) + 1;
  }
  return { strata: ids.map((id) => (id === "" ? "not known" : id)), ratings, counts: table };
}

/** Ratings from best to worst, then whatever stands in place of one. */
function ratingsInOrder(visits: readonly ScoredVisit[]): RatingCounts["ratings"] {
  const colours = new Map<string, string>();
  for (const { run, sample } of visits)
    for (const [rating, colour] of coloursOf(sample.classes, run.set.higherIs))
      if (!colours.has(rating)) colours.set(rating, colour);
  const found = [...new Set(visits.map(({ sample }) => ratingText(sample)))];
  const others = found.filter((rating) => !colours.has(rating)).sort(compareCodePoints);
  return [
    ...[...colours].map(([rating, colour]) => ({ rating, colour })).reverse(),
    ...others.map((rating) => ({ rating, colour: NO_CLASS_COLOUR })),
  ];
}
