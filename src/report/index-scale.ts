import { anchorOf, axisEnds, fitBetween, lineAxis, round, withoutOverlap } from "./axis.ts";
import { coloursOf, NO_CLASS_COLOUR } from "./class-colours.ts";
import type { Html } from "./html.ts";
import { html } from "./html.ts";
import type { ReportClass, ReportRun, ReportSample } from "./report-data.ts";
import { shown } from "./shown.ts";
import { whisker } from "./whisker.ts";

const BAND_TOP = 34;
const BAND_HEIGHT = 30;

/** The part of the index scale that a picture shows; where an outer class is open it ends beyond all that is known. */
export function scaleEnds(classes: readonly ReportClass[], indices: readonly number[]): [number, number] {
  const isOpen = (side: "lower" | "upper") =>
    classes.length === 0 || classes.some((one) => one[side] === undefined);
  return axisEnds(limitsOf(classes), indices, { low: isOpen("lower"), high: isOpen("upper") });
}

function limitsOf(classes: readonly ReportClass[]): number[] {
  return [...new Set(classes.flatMap(({ lower, upper }) => [lower ?? [], upper ?? []].flat()))];
}

/**
 * Where an index stands on its scale: the classes side by side with their limits, a mark, and the interval as a
 * line through it. Places are percentages, so that the picture fits every width with letters of one size. Classes
 * are told apart by names, borders and place; the colour only helps. A name that would not fit is a number there,
 * which the list below explains.
 */
export function indexScale(
  { index, classes, rating, interval }: ReportSample,
  higherIs: ReportRun["set"]["higherIs"],
): Html | undefined {
  if (index === undefined || classes.length === 0) return undefined;
  const ends = scaleEnds(classes, [index, ...(interval === undefined ? [] : [interval.low, interval.high])]);
  const axis = lineAxis(...ends);
  const colours = coloursOf(classes, higherIs);
  const bands = classes.map((one, at) => {
    const [from, to] = [axis.at(one.lower ?? ends[0]), axis.at(one.upper ?? ends[1])];
    const isOwn = one.rating === rating;
    const fit = fitBetween(one.rating, from, to);
    const name = (text: string | number, where: string) =>
      html`<text x="${round((from + to) / 2)}%" y="${BAND_TOP + 20}" text-anchor="middle"${isOwn ? html` font-weight="bold"` : undefined}${where === "" ? undefined : html` class="${where}"`}>${text}</text>\n`;
    return {
      fit,
      shape: html`<rect x="${from}%" y="${BAND_TOP}" width="${round(to - from)}%" height="${BAND_HEIGHT}" fill="${colours.get(one.rating) ?? NO_CLASS_COLOUR}" fill-opacity="${isOwn ? "0.38" : "0.14"}" stroke="currentColor" stroke-width="${isOwn ? 2 : 0.75}"/>
${fit === "always" ? name(one.rating, "") : undefined}${fit === "broad" ? [name(one.rating, "broad"), name(at + 1, "narrow")] : undefined}${fit === "never" ? name(at + 1, "") : undefined}`,
    };
  });
  const ticks = withoutOverlap(
    limitsOf(classes).map((limit) => ({ at: axis.at(limit), text: shown(limit) })),
  );
  const mark = { at: axis.at(index), text: shown(index) };
  const between =
    interval === undefined ? "" : `, ${interval.what} from ${shown(interval.low)} to ${shown(interval.high)}`;
  const text = `Index ${shown(index)}${rating === "" ? "" : `, ${rating}`}${between}, on a scale of ${classes.map((one) => `${one.rating} ${one.span}`).join("; ")}.`;
  const middle = BAND_TOP + BAND_HEIGHT + 8;
  return html`<figure class="scale">
<svg class="scale" width="100%" height="98" role="img" aria-label="${text}" font-size="14" fill="currentColor">
${bands.map(({ shape }) => shape)}${interval === undefined ? undefined : whisker(axis.at(interval.low), axis.at(interval.high), middle)}${ticks.map(({ at, text: limit }) => html`<text x="${at}%" y="${BAND_TOP + BAND_HEIGHT + 28}" text-anchor="middle">${limit}</text>\n`)}<text x="${mark.at}%" y="14" text-anchor="${anchorOf(mark)}" font-weight="bold">${mark.text}</text>
<svg x="${mark.at}%" y="${BAND_TOP - 14}" width="1" height="20" overflow="visible"><path d="M0 18l-8 -15h16z" class="mark"/></svg>
</svg>
<figcaption>${classes.map((one, at) => html`<span class="class">${keyOf(bands[at]?.fit, at + 1)}${one.rating === rating ? html`<strong>${one.rating}</strong>` : one.rating}: ${one.span}</span>`)}${interval === undefined ? undefined : html`<span class="class">line below the scale: ${interval.what}, ${shown(interval.low)} to ${shown(interval.high)}</span>`}</figcaption>
</figure>
`;
}

/** The number that stands for a class where its name does not fit. */
function keyOf(fit: "always" | "broad" | "never" | undefined, number: number): Html | undefined {
  if (fit === "always") return undefined;
  return html`<span class="${fit === "broad" ? "narrow" : "key"}">${number} = </span>`;
}
