import type { EChartsCoreOption } from "echarts/core";
import { numberText } from "../model/number-text.ts";
import type { ControlChart, ControlPoint } from "../quality/control-chart.ts";
import type { ChartSize } from "./chart-svg.ts";
import { CHART_SIZES, drawChart } from "./chart-svg.ts";
import { GridComponent, LabelLayout, LineChart, MarkLineComponent, SVGRenderer, use } from "./echarts.ts";

use([LineChart, GridComponent, MarkLineComponent, LabelLayout, SVGRenderer]);

/** Blue and vermilion of the palette of Okabe and Ito 2008, which people with any colour vision tell apart. */
const COLOURS = { pass: "#0072B2", fail: "#D55E00" } as const;

/**
 * Draws a control chart: the figure of one person over time, its limit as a dashed line, each point that missed
 * it as a larger diamond with its sample's name (never by colour alone). Text and axes take the colour of the
 * page around them.
 *
 * @param id names the parts of the picture that refer to each other; each picture of a page needs its own
 * @returns an SVG element; the same chart always gives the same picture
 */
export function drawControlChart(chart: ControlChart, id: string, size: ChartSize = "broad"): string {
  return drawChart(optionsOf(chart, size), CHART_SIZES[size], id, describeControlChart(chart));
}

/** The chart in words, for people who do not see it. */
export function describeControlChart(chart: ControlChart): string {
  const known = chart.points.filter((point) => point.value !== undefined);
  const failed = chart.points.filter((point) => point.outcome === "fail");
  const gaps = chart.points.length - known.length;
  const gapText = gaps === 0 ? "" : `; ${gaps} not computable`;
  const limit =
    chart.limit === undefined
      ? "no limit"
      : `limit ${chart.side === "at-least" ? "at least" : "at most"} ${numberText(chart.limit)} percent`;
  const missed =
    failed.length === 0
      ? "none missed it"
      : `${failed.length} missed it: ${failed.map((point) => `${point.sampleId} (${shown(point.value)})`).join(", ")}`;
  return `${chart.figure} of ${chart.person || "an unknown person"}: ${known.length} ${known.length === 1 ? "sample" : "samples"} over time${gapText}, ${limit}, ${missed}.`;
}

function optionsOf(chart: ControlChart, size: ChartSize): EChartsCoreOption {
  const ink = "currentColor";
  const isCrowded = chart.points.length > (size === "narrow" ? 3 : 6);
  const axis = { axisLine: { lineStyle: { color: ink } }, axisTick: { lineStyle: { color: ink } } };
  return {
    grid: { left: 44, right: size === "narrow" ? 66 : 90, top: 36, bottom: isCrowded ? 84 : 44 },
    xAxis: {
      type: "category",
      data: chart.points.map((point) => axisLabel(point, isCrowded)),
      axisLabel: { color: ink, rotate: isCrowded ? 45 : 0, lineHeight: 15, hideOverlap: true },
      ...axis,
    },
    yAxis: {
      type: "value",
      name: "percent",
      nameTextStyle: { color: ink },
      ...range(chart),
      axisLabel: { color: ink },
      splitLine: { lineStyle: { color: ink, opacity: 0.15 } },
      ...axis,
    },
    series: [
      {
        type: "line",
        connectNulls: false,
        // Left to itself the library shows only the points that have a label on the axis.
        showAllSymbol: true,
        labelLayout: { hideOverlap: true },
        lineStyle: { color: COLOURS.pass, width: 1.5 },
        data: chart.points.map((point, at) => pointOf(point, chart.side, (at + 0.5) / chart.points.length)),
        ...(chart.limit === undefined ? {} : { markLine: limitLine(chart.limit) }),
      },
    ],
  };
}

/** @param across where it stands, from 0 at the left end to 1 */
function pointOf(point: ControlPoint, side: ControlChart["side"], across: number) {
  const isFailed = point.outcome === "fail";
  return {
    value: point.value ?? null,
    symbol: isFailed ? "diamond" : "circle",
    symbolSize: isFailed ? 14 : 7,
    itemStyle: { color: isFailed ? COLOURS.fail : COLOURS.pass },
    label: {
      show: isFailed,
      // Away from the limit line.
      position: side === "at-least" ? "bottom" : "top",
      // Within the chart, where it would run into the axis or over the edge.
      align: across < 0.25 ? "left" : across > 0.75 ? "right" : "center",
      color: "currentColor",
      formatter: `${point.sampleId.replace(/[{}]/g, "")}: ${shown(point.value)}`,
    },
  };
}

function limitLine(limit: number) {
  return {
    symbol: "none",
    silent: true,
    lineStyle: { color: "currentColor", type: "dashed", width: 1.5 },
    label: { color: "currentColor", formatter: `limit ${numberText(limit)}`, position: "end" },
    data: [{ yAxis: limit }],
  };
}

/** Whole fives around values and limit, with room below and above, and never beyond 0 and 100 without need. */
function range(chart: ControlChart): { min: number; max: number; interval?: number } {
  const values = chart.points.flatMap((point) => point.value ?? []);
  if (chart.limit !== undefined) values.push(chart.limit);
  if (values.length === 0) return { min: 0, max: 100 };
  const least = Math.min(...values);
  const most = Math.max(...values);
  const min = Math.floor((least - 2) / 5) * 5;
  const max = Math.ceil((most + 2) / 5) * 5;
  const ends = { min: least >= 0 ? Math.max(0, min) : min, max: most <= 100 ? Math.min(100, max) : max };
  return ends.max - ends.min <= 40 ? { ...ends, interval: 5 } : ends;
}

function axisLabel({ date, sampleId }: ControlPoint, isCrowded: boolean): string {
  if (date === "") return sampleId;
  return isCrowded ? date : `${date}\n${sampleId}`;
}

function shown(value: number | undefined): string {
  return value === undefined ? "not computable" : String(Number(value.toFixed(2)));
}
