import type { Html } from "./html.ts";
import { html } from "./html.ts";

/** The line of an interval with its two ends, at places in percent of the width, at a height in pixels. */
export function whisker(from: number, to: number, y: number): Html {
  const line = (x1: number, y1: number, x2: number, y2: number) =>
    html`<line x1="${x1}%" y1="${y1}" x2="${x2}%" y2="${y2}" stroke="currentColor" stroke-width="2" class="reach"/>`;
  return html`${line(from, y, to, y)}${line(from, y - 4, from, y + 4)}${line(to, y - 4, to, y + 4)}`;
}
