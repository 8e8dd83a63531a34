import { exactOf } from "../model/exact.ts";
import { figureText } from "../quality/figure-text.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { ReportClass, ReportSample } from "./report-data.ts";

const WIDTH = 720;
const EDGE = 12;
const BAND_TOP = 34;
const BAND_HEIGHT = 30;

/** The part of the index scale that a picture shows; where an outer class is open it ends beyond all that is known. */
export function scaleEnds(classes: readonly ReportClass[], indices: readonly number[]): [number, number] {
  const limits = classes.flatMap(({ lower, upper }) => [lower ?? [], upper ?? []].flat());
  const known = [...limits, ...indices];
  if (known.length === 0) return [0, 1];
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const room = Math.max((most - least) * 0.15, most === least ? 1 : 0);
  const isOpen = (side: "lower" | "upper") =>
    classes.length === 0 || classes.some((one) => one[side] === undefined);
  return [isOpen("lower") ? least - room : least, isOpen("upper") ? most + room : most];
}

/**
 * Where an index stands on its scale: the classes side by side with their limits, and a mark. Classes are told
 * apart by their names and borders, never by colour.
 */
export function indexScale({ index, classes, rating }: ReportSample): Html | undefined {
  if (index === undefined || classes.length === 0) return undefined;
  const [least, most] = scaleEnds(classes, [index]);
  const x = (value: number) => round(EDGE + ((value - least) / (most - least)) * (WIDTH - 2 * EDGE));
  const at = x(index);
  const text = `Index ${shown(index)}${rating === "" ? "" : `, ${rating}`}, on a scale of ${classes.map((one) => `${one.rating} ${one.span}`).join("; ")}.`;
  const bands = classes.map((one) => {
    const [from, to] = [x(one.lower ?? least), x(one.upper ?? most)];
    const isOwn = one.rating === rating;
    return html`<rect x="${from}" y="${BAND_TOP}" width="${round(to - from)}" height="${BAND_HEIGHT}" fill="currentColor" fill-opacity="${isOwn ? "0.22" : "0.05"}" stroke="currentColor" stroke-width="1"/>
<text x="${round((from + to) / 2)}" y="${BAND_TOP + 20}" text-anchor="middle" font-weight="${isOwn ? "bold" : "normal"}">${one.rating}</text>
`;
  });
  const limits = [...new Set(classes.flatMap(({ lower, upper }) => [lower ?? [], upper ?? []].flat()))];
  const ticks = limits.map(
    (limit) =>
      html`<text x="${x(limit)}" y="${BAND_TOP + BAND_HEIGHT + 18}" text-anchor="middle">${shown(limit)}</text>\n`,
  );
  const anchor = at < 60 ? "start" : at > WIDTH - 60 ? "end" : "middle";
  return html`<figure><div class="wide" tabindex="0" role="region" aria-label="index scale">
<svg class="scale" viewBox="0 0 ${WIDTH} 90" role="img" aria-label="${text}" font-size="14" fill="currentColor">
${bands}${ticks}<text x="${at}" y="14" text-anchor="${anchor}" font-weight="bold">${shown(index)}</text>
<path d="M${at} ${BAND_TOP + 6}l-8 -16h16z" class="mark"/>
</svg></div>
</figure>
`;
}

/** A number for a person: at most two decimals. */
export function shown(value: number): string {
  return figureText(exactOf(value));
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
