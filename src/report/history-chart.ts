import { LineChart } from "echarts/charts";
import { GridComponent, MarkLineComponent } from "echarts/components";
import { init, use } from "echarts/core";
import { LabelLayout } from "echarts/features";
import { SVGRenderer } from "echarts/renderers";
import { stillSvg } from "./chart-svg.ts";
import { escapeHtml } from "./html.ts";
import { scaleEnds, shown } from "./index-scale.ts";
import type { ReportClass, ReportSample } from "./report-data.ts";
import { summaryOf } from "./sites.ts";

use([LineChart, GridComponent, MarkLineComponent, LabelLayout, SVGRenderer]);

const SIZE = { width: 760, height: 300 } as const;
/** Blue of the palette of Okabe and Ito 2008. */
const COLOUR = "#0072B2";

/** The index of a site over time, all scored with one set. */
export interface SiteHistory {
  readonly name: string;
  /** From the oldest day to the newest. */
  readonly days: readonly { readonly day: string; readonly samples: readonly ReportSample[] }[];
  /** Classes whose limits are drawn; of the newest sample. */
  readonly classes: readonly ReportClass[];
}

/** The history in words, for people who do not see the chart. */
export function describeHistory({ name, days }: SiteHistory): string {
  const parts = days.map(({ day, samples }) => {
    const summary = summaryOf(samples);
    if (summary === undefined) return `${day}: no index`;
    const range =
      summary.count === 1
        ? ""
        : ` (mean of ${summary.count}, from ${shown(summary.least)} to ${shown(summary.most)})`;
    return `${day}: ${shown(summary.mean)}${range}`;
  });
  return `Index of ${name} over time. ${parts.join("; ")}.`;
}

/**
 * Draws the history of a site: the mean index of each day, least and most where there are several samples, and
 * the limits of the classes as dashed lines with their names.
 *
 * @param id names the parts of the picture that refer to each other; each picture of a page needs its own
 * @returns an SVG element; the same history always gives the same picture
 */
export function drawHistory(history: SiteHistory, id: string): string {
  const surface = init(null, null, { renderer: "svg", ssr: true, ...SIZE });
  try {
    surface.setOption(optionsOf(history));
    return stillSvg(surface.renderToSVGString(), id).replace(
      "<svg ",
      `<svg role="img" aria-label="${escapeHtml(describeHistory(history))}" `,
    );
  } finally {
    // An undisposed chart would keep the process alive.
    surface.dispose();
  }
}

function optionsOf({ days, classes }: SiteHistory): Parameters<ReturnType<typeof init>["setOption"]>[0] {
  const ink = "currentColor";
  const summaries = days.map(({ samples }) => summaryOf(samples));
  const indices = summaries.flatMap((one) => (one === undefined ? [] : [one.least, one.most]));
  const [min, max] = scaleEnds(classes, indices);
  const isCrowded = days.length > 6;
  const axis = { axisLine: { lineStyle: { color: ink } }, axisTick: { lineStyle: { color: ink } } };
  const points = (value: "least" | "most") =>
    summaries.map((one) => (one === undefined || one.count === 1 ? null : one[value]));
  const ends = (value: "least" | "most", symbol: string) => ({
    type: "line" as const,
    data: points(value),
    showAllSymbol: true,
    symbol,
    symbolSize: 8,
    lineStyle: { opacity: 0 },
    itemStyle: { color: COLOUR },
  });
  return {
    animation: false,
    textStyle: { fontFamily: "system-ui, sans-serif", color: ink },
    grid: { left: 52, right: 120, top: 30, bottom: isCrowded ? 76 : 36 },
    xAxis: {
      type: "category",
      data: days.map(({ day }) => day),
      axisLabel: { color: ink, rotate: isCrowded ? 45 : 0, hideOverlap: true },
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
        type: "line",
        connectNulls: false,
        showAllSymbol: true,
        symbol: "circle",
        symbolSize: 9,
        lineStyle: { color: COLOUR, width: 1.5 },
        itemStyle: { color: COLOUR },
        label: {
          show: !isCrowded,
          position: "top",
          color: ink,
          formatter: ({ value }: { readonly value?: unknown }) =>
            typeof value === "number" ? shown(value) : "",
        },
        data: summaries.map((one) => one?.mean ?? null),
        markLine: limitLines(classes),
      },
      ends("least", "triangle"),
      ends("most", "triangle"),
    ],
  };
}

function limitLines(classes: readonly ReportClass[]) {
  return {
    symbol: "none",
    silent: true,
    lineStyle: { color: "currentColor", type: "dashed" as const, width: 1, opacity: 0.6 },
    label: { color: "currentColor", position: "end" as const },
    data: classes.flatMap(({ lower, rating }) =>
      lower === undefined
        ? []
        : [
            {
              yAxis: lower,
              label: { formatter: `${shown(lower)} ${rating.replace(/[{}]/g, "")}` },
            },
          ],
    ),
  };
}
