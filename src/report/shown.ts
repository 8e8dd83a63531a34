import { exactOf } from "../model/exact.ts";
import { figureText } from "../quality/figure-text.ts";

/** A number for a person: at most two decimals. */
export function shown(value: number): string {
  return figureText(exactOf(value));
}

/** A text with a capital letter at its head. */
export function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** "1 sample", "2 samples". */
export function countText(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? "" : "s"}`;
}
