import type { CustomSeriesRenderItemAPI, CustomSeriesRenderItemParams } from "echarts";
import type { EChartsCoreOption } from "echarts/core";
import type { ChartSize } from "./chart-svg.ts";
import { CHART_SIZES, drawChart } from "./chart-svg.ts";
import {
  CustomChart,
  GridComponent,
  LabelLayout,
  LineChart,
  MarkLineComponent,
  SVGRenderer,
  use,
} from "./echarts.ts";
import { scaleEnds } from "./index-scale.ts";
import type { ReportClass, ReportSample } from "./report-data.ts";
import { shown } from "./shown.ts";
import type { IndexSummary } from "./sites.ts";
import { summaryOf } from "./sites.ts";

use([LineChart, CustomChart, GridComponent, MarkLineComponent, LabelLayout, SVGRenderer]);

/** Blue of the palette of Okabe and Ito 2008; it reads on white and on black. */
const COLOUR = "#2b8cc4";

/** The index of a site over time, all scored with one set. */
export interface SiteHistory {
  readonly name: string;
  /** From the oldest day to the newest. */
  readonly days: readonly { readonly day: string; readonly samples: readonly ReportSample[] }[];
  /** Classes whose limits are drawn; of the newest sample. */
  readonly classes: readonly ReportClass[];
}

/** What a day shows: its mean, and how far it reaches. */
interface DayPoint {
  readonly day: string;
  readonly summary: IndexSummary | undefined;
  /** From the interval of the one sample, or from least to most of several. */
  readonly reach: readonly [number, number] | undefined;
}

function pointsOf(days: SiteHistory["days"]): DayPoint[] {
  return days.map(({ day, samples }) => {
    const summary = summaryOf(samples);
    if (summary === undefined) return { day, summary, reach: undefined };
    if (summary.count > 1) return { day, summary, reach: [summary.least, summary.most] };
    const interval = samples.find(
      ({ index, duplicateOf }) => index !== undefined && duplicateOf === "",
    )?.interval;
    return { day, summary, reach: interval === undefined ? undefined : [interval.low, interval.high] };
  });
}

/** The history in words, for people who do not see the chart. */
export function describeHistory({ name, days }: SiteHistory): string {
  const parts = pointsOf(days).map(({ day, summary, reach }) => {
    if (summary === undefined) return `${day}: no index`;
    const range =
      summary.count > 1
        ? ` (mean of ${summary.count}, from ${shown(summary.least)} to ${shown(summary.most)})`
        : reach === undefined
          ? ""
          : ` (interval from ${shown(reach[0])} to ${shown(reach[1])})`;
    return `${day}: ${shown(summary.mean)}${range}`;
  });
  return `Index of ${name} over time. ${parts.join("; ")}.`;
}

/** How to read the chart, saying only of what is drawn in it. */
export function historyCaption(history: SiteHistory): string {
  const points = pointsOf(history.days);
  const bars = [
    points.some(({ summary, reach }) => summary?.count === 1 && reach !== undefined)
      ? "the interval of its index"
      : "",
    points.some(({ summary }) => (summary?.count ?? 0) > 1)
      ? "from the least to the most of several samples of a day, whose mean the dot is"
      : "",
  ].filter((part) => part !== "");
  const reach = bars.length === 0 ? "" : ` Upright bars: ${bars.join("; ")}.`;
  return `Index over time. Dots: days with an index.${reach} Dashed lines: where classes begin.`;
}

/**
 * Draws the history of a site: the index of each day at its place in time, its interval, and the limits of the
 * classes as dashed lines with their names.
 *
 * @param id names the parts of the picture that refer to each other; each picture of a page needs its own
 * @returns an SVG element; the same history always gives the same picture
 */
export function drawHistory(history: SiteHistory, id: string, size: ChartSize = "broad"): string {
  return drawChart(optionsOf(history, size), CHART_SIZES[size], id, describeHistory(history));
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;

function optionsOf({ days, classes }: SiteHistory, size: ChartSize): EChartsCoreOption {
  const ink = "currentColor";
  const points = pointsOf(days);
  const shownValues = points.flatMap(({ summary, reach }) =>
    summary === undefined ? [] : [summary.mean, ...(reach ?? [])],
  );
  const [min, max] = scaleEnds(classes, shownValues);
  const axis = { axisLine: { lineStyle: { color: ink } }, axisTick: { lineStyle: { color: ink } } };
  const isTimed = days.every(({ day }) => DAY.test(day));
  const placeOf = ({ day }: DayPoint, at: number) => (isTimed ? Date.parse(`${day}T00:00:00Z`) : at);
  const isNarrow = size === "narrow";
  return {
    useUTC: true,
    // Room for the labels is given here: working it out takes a fifth of the time of a chart.
    grid: { outerBoundsMode: "none", left: 44, right: isNarrow ? 84 : 120, top: 30, bottom: 40 },
    xAxis: isTimed
      ? {
          type: "time",
          ...timeEnds(days.map(({ day }) => day)),
          splitNumber: isNarrow ? 3 : 6,
          axisLabel: {
            color: ink,
            hideOverlap: true,
            formatter: { year: "{yyyy}", month: "{yyyy}-{MM}", day: "{yyyy}-{MM}-{dd}" },
          },
          ...axis,
        }
      : {
          type: "category",
          data: days.map(({ day }) => day),
          axisLabel: { color: ink, hideOverlap: true },
          ...axis,
        },
    yAxis: {
      type: "value",
      name: "index",
      nameTextStyle: { color: ink },
      min,
      max,
      axisLabel: { color: ink, formatter: (value: number) => shown(value) },
      splitLine: { show: false },
      ...axis,
    },
    series: [
      {
        type: "custom",
        renderItem: reachBar,
        data: points.flatMap((point, at) =>
          point.reach === undefined ? [] : [[placeOf(point, at), ...point.reach]],
        ),
      },
      {
        type: "line",
        connectNulls: false,
        showAllSymbol: true,
        symbol: "circle",
        symbolSize: 9,
        lineStyle: { color: COLOUR, width: 1.5 },
        itemStyle: { color: COLOUR },
        label: {
          show: true,
          position: "right",
          color: ink,
          fontWeight: "bold",
          // Keeps the figure readable where a line runs behind it.
          textBorderColor: "var(--ground)",
          textBorderWidth: 4,
          formatter: ({ value }: { readonly value?: unknown }) =>
            Array.isArray(value) && typeof value[1] === "number" ? shown(value[1]) : "",
        },
        labelLayout: { hideOverlap: true },
        data: points.map((point, at) => [placeOf(point, at), point.summary?.mean ?? null]),
        markLine: limitLines(classes, isNarrow),
      },
    ],
  };
}

const DAY_LENGTH = 86_400_000;

/** The first and the last day with some room, so that no dot lies on an edge. */
function timeEnds(days: readonly string[]): { readonly min: number; readonly max: number } {
  const times = days.map((day) => Date.parse(`${day}T00:00:00Z`));
  const [first, last] = [Math.min(...times), Math.max(...times)];
  const room = Math.max((last - first) * 0.08, 30 * DAY_LENGTH);
  return { min: first - room, max: last + room };
}

/** An upright bar with ends, from the second to the third value of an item. */
function reachBar(_params: CustomSeriesRenderItemParams, api: CustomSeriesRenderItemAPI) {
  const [x = 0, low = 0] = api.coord([api.value(0), api.value(1)]);
  const [, high = 0] = api.coord([api.value(0), api.value(2)]);
  const line = (x1: number, y1: number, x2: number, y2: number) => ({
    type: "line" as const,
    shape: { x1, y1, x2, y2 },
    style: { stroke: COLOUR, lineWidth: 2 },
  });
  return {
    type: "group" as const,
    children: [line(x, low, x, high), line(x - 6, low, x + 6, low), line(x - 6, high, x + 6, high)],
  };
}

function limitLines(classes: readonly ReportClass[], isNarrow: boolean) {
  return {
    symbol: "none",
    silent: true,
    // Below the line of the index, so that no limit runs through a dot or its figure.
    z: 1,
    lineStyle: { color: "currentColor", type: "dashed" as const, width: 1, opacity: 0.6 },
    label: { color: "currentColor", position: "end" as const, fontSize: isNarrow ? 11 : 12 },
    data: classes.flatMap(({ lower, rating }) =>
      lower === undefined
        ? []
        : [{ yAxis: lower, label: { formatter: `${shown(lower)} ${rating.replace(/[{}]/g, "")}` } }],
    ),
  };
}
