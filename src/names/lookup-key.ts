import { normaliseName } from "./normalise.ts";

/** A name as the tables write most of theirs; its key is its lower case. */
const PLAIN = /^[A-Z][a-z]+(?: [a-z]+)?$/;
const ACCENTS = /\p{M}/gu;
const DASHES_AND_UNDERSCORES = /[-_\u00b7\u2010-\u2015\u2212]/gu;
const QUOTES = /['"`\u00b4\u2018-\u201f\u2032\u2033]/gu;
const STOPS = /[.,;:*#\u2020\u2021]/gu;

/**
 * What names are compared by: case, accents, hyphens, underscores, quotation marks, stops and the spacing of
 * slashes and brackets do not matter ("Baetis sp.A", "baetis_sp. a" and "Baetis sp a" have one key). Only for
 * looking names up; piles of a draw are kept by `normaliseName`.
 */
export function lookupKey(name: string): string {
  if (PLAIN.test(name)) return name.toLowerCase();
  return normaliseName(name)
    .normalize("NFKD")
    .toLowerCase()
    .normalize("NFKD")
    .replace(ACCENTS, "")
    .replaceAll("æ", "ae")
    .replaceAll("œ", "oe")
    .replace(DASHES_AND_UNDERSCORES, " ")
    .replace(QUOTES, "")
    .replace(STOPS, " ")
    .replaceAll("\\", "/")
    .replaceAll("[", "(")
    .replaceAll("]", ")")
    .replaceAll("?", " ? ")
    .replaceAll("&", " & ")
    .replaceAll("(", " (")
    .replaceAll(")", ") ")
    .replace(/\s+/gu, " ")
    .replaceAll("( ", "(")
    .replaceAll(" )", ")")
    .replace(/ ?\/ ?/gu, "/")
    .trim();
}
