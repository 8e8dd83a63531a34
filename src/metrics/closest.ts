import { distance } from "fastest-levenshtein";
import { compareCodePoints } from "../model/order.ts";
import { closeLimit } from "../names/suggest.ts";

/** Up to three texts that a mistyped one may have meant, nearest first, ties by code point. */
export function closestTexts(typed: string, known: Iterable<string>): string[] {
  const wanted = typed.toLowerCase();
  const limit = closeLimit(wanted.length);
  const near: { text: string; edits: number }[] = [];
  for (const text of known) {
    if (Math.abs(text.length - wanted.length) > limit) continue;
    const edits = distance(wanted, text.toLowerCase());
    if (edits <= limit) near.push({ text, edits });
  }
  near.sort((a, b) => a.edits - b.edits || compareCodePoints(a.text, b.text));
  return near.slice(0, 3).map(({ text }) => text);
}

/** The end of a sentence that asks for a near text, empty when none is near. */
export function didYouMean(typed: string, known: Iterable<string>): string {
  const near = closestTexts(typed, known);
  return near.length === 0 ? "" : `; did you mean ${near.map((text) => `"${text}"`).join(" or ")}?`;
}
