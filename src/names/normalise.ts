/**
 * Version of the rules below. The draw of a fixed count orders its piles by normalised name, so these rules
 * are part of what makes an old draw come out again: they are never changed, only joined by a new version.
 */
export const NORMALISATION = "name-key/1";

/** Characters without width: soft hyphen, joiners, direction marks, byte-order mark. */
const WITHOUT_WIDTH = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/gu;
/** Every kind of white space, no-break spaces and line ends included. */
const WHITE_SPACE = /[\s\u0085\u180e]+/gu;

/**
 * A name as written, without what cannot be seen: composed characters (Unicode NFC), single plain spaces, no
 * characters without width, no white space at the ends. Its letters stay as they are.
 */
export function cleanName(asWritten: string): string {
  return asWritten.normalize("NFC").replace(WITHOUT_WIDTH, "").replace(WHITE_SPACE, " ").trim();
}

/**
 * The one way of writing a name that different people's spacing and capitals come down to: cleaned as by
 * `cleanName`, lower case with a capital first letter, as names of taxa are written ("BAETIS  TRICAUDATUS"
 * gives "Baetis tricaudatus"). Nothing is looked up, so the result does not change with the taxonomy.
 *
 * Two names with the same normalised name are one pile in a draw. The rules are frozen (`NORMALISATION`).
 */
export function normaliseName(asWritten: string): string {
  const clean = cleanName(asWritten).toLowerCase().normalize("NFC");
  const codePoint = clean.codePointAt(0);
  if (codePoint === undefined) return clean;
  const first = String.fromCodePoint(codePoint);
  const capital = first.toUpperCase();
  // A few letters have no capital of their own ("ß" would become "SS"): they stay small.
  if (capital.length !== first.length || capital.toLowerCase() !== first) return clean;
  return `${capital}${clean.slice(first.length)}`.normalize("NFC");
}
