import type { EChartsCoreOption } from "echarts/core";
import { init } from "./echarts.ts";
import type { Html } from "./html.ts";
import { escapeHtml, Html as HtmlText, html } from "./html.ts";

/** Sizes of a chart: on a desk and on paper, and on a narrow screen. Letters have one size in both. */
export const CHART_SIZES = {
  broad: { width: 760, height: 300 },
  narrow: { width: 350, height: 300 },
} as const;

/** Which of the sizes a chart is drawn in. */
export type ChartSize = keyof typeof CHART_SIZES;

/**
 * Draws a chart as a picture that needs no script; the same options always give the same picture.
 *
 * @param id names the parts of the picture that refer to each other; each picture of a page needs its own
 * @param label the chart in words
 * @returns an SVG element
 */
export function drawChart(
  options: EChartsCoreOption,
  size: { readonly width: number; readonly height: number },
  id: string,
  label: string,
): string {
  const surface = init(null, null, { renderer: "svg", ssr: true, ...size });
  try {
    surface.setOption({
      animation: false,
      textStyle: { fontFamily: "system-ui, sans-serif", color: "currentColor" },
      ...options,
    });
    return stillSvg(surface.renderToSVGString(), id).replace(
      "<svg ",
      `<svg role="img" aria-label="${escapeHtml(label)}" `,
    );
  } finally {
    // An undisposed chart would keep the process alive.
    surface.dispose();
  }
}

/** A chart in both sizes, of which the page shows the one that fits, under a line that says how to read it. */
export function chartFigure(caption: string, draw: (size: ChartSize) => string): Html {
  return html`<figure><figcaption>${caption}</figcaption>
<div class="broad">${new HtmlText(draw("broad"))}</div>
<div class="narrow">${new HtmlText(draw("narrow"))}</div>
</figure>
`;
}

/**
 * Leaves the drawing of a chart and takes off what only a live chart needs: classes and rules for the mouse, and
 * marks of the library. What refers to each other is named after `id`; the library numbers it through the process.
 */
export function stillSvg(svg: string, id: string): string {
  return svg
    .replace(/<style\b[\s\S]*?<\/style>\s*/g, "")
    .replace(/ (?:class="zr[^"]*"|ecmeta_\w+="[^"]*"|pointer-events="visible")/g, "")
    .replace(/\bzr\d+-/g, `${id}-`);
}
