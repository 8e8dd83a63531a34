import type { EChartsCoreOption } from "echarts/core";
import type { ChartSize } from "./chart-svg.ts";
import { CHART_SIZES, drawChart } from "./chart-svg.ts";
import { inkOn } from "./class-colours.ts";
import { BarChart, GridComponent, LegendComponent, SVGRenderer, use } from "./echarts.ts";
import { countText } from "./shown.ts";

use([BarChart, GridComponent, LegendComponent, SVGRenderer]);

/** How many samples of each stratum got each rating. */
export interface RatingCounts {
  readonly strata: readonly string[];
  /** From the best to the worst, then whatever stands in place of one. */
  readonly ratings: readonly { readonly rating: string; readonly colour: string }[];
  /** By rating, then by stratum. */
  readonly counts: readonly (readonly number[])[];
}

/** The counts in words, for people who do not see the chart. */
export function describeRatings({ strata, ratings, counts }: RatingCounts): string {
  const parts = strata.map((stratum, column) => {
    const found = ratings.flatMap(({ rating }, row) => {
      const count = counts[row]?.[column] ?? 0;
      return count === 0 ? [] : [`${count} ${rating}`];
    });
    return `${stratum}: ${found.join(", ")}`;
  });
  const total = counts.flat().reduce((sum, count) => sum + count, 0);
  return `Ratings of ${countText(total, "sample")} by stratum. ${parts.join("; ")}.`;
}

/**
 * Draws the ratings of each stratum as one bar, the best to the left; every piece has its number, and its rating
 * where there is room.
 *
 * @param id names the parts of the picture that refer to each other; each picture of a page needs its own
 */
export function drawRatings(counts: RatingCounts, id: string, size: ChartSize): string {
  const { width } = CHART_SIZES[size];
  const height = 70 + 38 * counts.strata.length + (size === "narrow" ? 24 : 0);
  return drawChart(optionsOf(counts, size), { width, height }, id, describeRatings(counts));
}

/** Width of a letter of a label, in pixels, on the safe side. */
const LETTER = 7.5;

function optionsOf({ strata, ratings, counts }: RatingCounts, size: ChartSize): EChartsCoreOption {
  const ink = "currentColor";
  const longest = Math.max(...strata.map((stratum) => stratum.length), 4);
  const left = Math.min(size === "narrow" ? 110 : 200, longest * LETTER + 14);
  const totals = strata.map((_, column) => counts.reduce((sum, row) => sum + (row[column] ?? 0), 0));
  const most = Math.max(...totals, 1);
  const room = (CHART_SIZES[size].width - left - 20) / most;
  return {
    legend: {
      left: 0,
      top: 0,
      itemWidth: 14,
      itemGap: 18,
      selectedMode: false,
      textStyle: { color: ink },
      data: ratings.map(({ rating }) => rating),
    },
    grid: { left, right: 20, top: size === "narrow" ? 58 : 34, bottom: 26 },
    xAxis: {
      type: "value",
      minInterval: 1,
      max: most,
      axisLabel: { color: ink },
      splitLine: { lineStyle: { color: ink, opacity: 0.15 } },
    },
    yAxis: {
      type: "category",
      inverse: true,
      data: strata.map((stratum) => stratum),
      axisLabel: { color: ink, width: left - 10, overflow: "truncate" },
      axisTick: { show: false },
      axisLine: { lineStyle: { color: ink } },
    },
    series: ratings.map(({ rating, colour }, row) => ({
      type: "bar",
      name: rating,
      stack: "all",
      barWidth: 24,
      itemStyle: { color: colour, borderColor: ink, borderWidth: 0.75 },
      data: strata.map((_, column) => {
        const count = counts[row]?.[column] ?? 0;
        const text = `${count} ${rating}`;
        return {
          value: count,
          label: {
            show: count > 0,
            color: inkOn(colour),
            formatter: (text.length * LETTER < count * room ? text : String(count)).replace(/[{}]/g, ""),
          },
        };
      }),
    })),
  };
}
