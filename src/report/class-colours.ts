import type { ReportClass } from "./report-data.ts";

/**
 * Colours from the worst class to the best: vermilion, orange, yellow, sky blue and blue of the palette of Okabe
 * and Ito 2008, which people with any colour vision tell apart. They stand beside words and never alone.
 */
const STOPS = [
  [213, 94, 0],
  [230, 159, 0],
  [240, 228, 66],
  [86, 180, 233],
  [0, 114, 178],
] as const;

/** Whatever stands in place of a rating. */
export const NO_CLASS_COLOUR = "#999999";

/** The colours of some classes, the worst first. */
export function classColours(count: number): string[] {
  return Array.from({ length: count }, (_, at) => {
    const place = count < 2 ? STOPS.length - 1 : (at * (STOPS.length - 1)) / (count - 1);
    const from = STOPS[Math.floor(place)] ?? STOPS[0];
    const to = STOPS[Math.ceil(place)] ?? from;
    const share = place - Math.floor(place);
    const parts = from.map((part, channel) => Math.round(part + ((to[channel] ?? part) - part) * share));
    return `#${parts.map((part) => part.toString(16).padStart(2, "0")).join("")}`;
  });
}

/** The colour of each class, by its name. */
export function coloursOf(
  classes: readonly ReportClass[],
  higherIs: "better" | "worse",
): ReadonlyMap<string, string> {
  const names = [...new Set(classes.map(({ rating }) => rating))];
  if (higherIs === "worse") names.reverse();
  const colours = classColours(names.length);
  return new Map(names.map((name, at) => [name, colours[at] ?? NO_CLASS_COLOUR]));
}

/** Black or white, whichever reads better on a colour (relative luminance of WCAG 2). */
export function inkOn(colour: string): string {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.03928 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  // Contrast with black exceeds that with white from here on.
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue > 0.179 ? "#000000" : "#ffffff";
}
