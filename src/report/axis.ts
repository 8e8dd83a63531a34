/** Where values stand on a line, in percent of the width of a picture. */
export interface Axis {
  readonly at: (value: number) => number;
}

/** Room at both ends, in percent, so that a mark at an end is whole. */
const EDGE = 3;

/** A line from one value to another; where `from` is the larger, values fall from left to right. */
export function lineAxis(from: number, to: number): Axis {
  const span = to - from;
  return {
    at: (value) => {
      const share = span === 0 ? 0.5 : (value - from) / span;
      return round(EDGE + Math.min(1, Math.max(0, share)) * (100 - 2 * EDGE));
    },
  };
}

/** The ends of a line that shows some limits and a value, with room where it goes on beyond the last limit. */
export function axisEnds(
  limits: readonly number[],
  values: readonly number[],
  open: { readonly low: boolean; readonly high: boolean },
): [number, number] {
  const known = [...limits, ...values];
  if (known.length === 0) return [0, 1];
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const room = least === most ? 1 : (most - least) * 0.15;
  return [open.low ? least - room : least, open.high ? most + room : most];
}

/** A text on a line, at a place in percent. */
export interface AxisLabel {
  readonly at: number;
  readonly text: string;
}

/** Narrowest picture, in pixels, in which texts must not run into each other. */
const NARROWEST = 300;
/** Width of a letter at the size of labels, in pixels, on the safe side. */
const LETTER = 7.5;

/** Leaves out texts that would run into one before them; the first and the last are kept before all others. */
export function withoutOverlap(labels: readonly AxisLabel[]): AxisLabel[] {
  const sorted = [...labels].sort((a, b) => a.at - b.at);
  const [first, last] = [sorted[0], sorted.at(-1)];
  const kept: AxisLabel[] = [];
  for (const label of [first, last, ...sorted.slice(1, -1)]) {
    if (label === undefined || kept.includes(label)) continue;
    const isFree = kept.every(
      (other) => Math.abs(other.at - label.at) > ((half(other) + half(label)) * 100) / NARROWEST,
    );
    if (isFree) kept.push(label);
  }
  return kept.sort((a, b) => a.at - b.at);
}

/** Pictures on a desk and on paper are at least this wide, in pixels. */
const BROAD = 640;

/** Where a text fits between two places: in every picture, in broad ones only, or in none. */
export function fitBetween(text: string, from: number, to: number): "always" | "broad" | "never" {
  const width = text.length * LETTER + 6;
  if (width <= ((to - from) * NARROWEST) / 100) return "always";
  return width <= ((to - from) * BROAD) / 100 ? "broad" : "never";
}

/** How a text at a place is anchored so that it does not stick out. */
export function anchorOf({ at, text }: AxisLabel): "start" | "middle" | "end" {
  const room = (half({ at, text }) * 100) / NARROWEST;
  return at < room ? "start" : at > 100 - room ? "end" : "middle";
}

function half({ text }: AxisLabel): number {
  return (text.length * LETTER) / 2 + 3;
}

/** Two decimals are finer than a pixel. */
export function round(value: number): number {
  return Math.round(value * 100) / 100;
}
