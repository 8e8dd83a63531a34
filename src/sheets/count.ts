import { quoted } from "../files/visible-text.ts";
import type { FindingCode } from "../findings/register.ts";
import { LARGEST_COUNT } from "../model/rows.ts";

/**
 * Reads a count: plain digits 0 to 9, a whole number from 0 to LARGEST_COUNT, white space around it allowed.
 *
 * @returns the number, or -1 for anything else; `countFault` then says what is wrong
 */
export function plainCount(cell: string): number {
  const count = digitsOf(cell);
  if (count >= 0 || cell === "") return count;
  const trimmed = cell.trim();
  return trimmed.length === cell.length ? -1 : digitsOf(trimmed);
}

function digitsOf(text: string): number {
  const length = text.length;
  if (length === 0 || length > 10) return -1;
  // A leading zero may be a code in the wrong column, so it is not taken for a number.
  if (length > 1 && text.charCodeAt(0) === 48) return -1;
  let count = 0;
  for (let at = 0; at < length; at++) {
    const digit = text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) return -1;
    count = count * 10 + digit;
  }
  return count <= LARGEST_COUNT ? count : -1;
}

/** What is wrong with a cell. */
export interface CellFault {
  readonly code: FindingCode;
  readonly message: string;
  readonly hint?: string | undefined;
}

/** What spreadsheet programs write when a formula fails. */
export const FORMULA_ERROR = /^#(?:n\/a|div\/0!|value!|ref!|name\?|num!|null!|spill!|calc!|getting_data)$/i;

interface CountMistake {
  readonly pattern: RegExp;
  readonly code: "bad-count" | "negative-count" | "missing-count" | "large-count" | "error-cell";
  /** Follows `count "12,5" `. */
  readonly says: string;
  readonly hint?: string;
}

const MONTH = "(?:jan|feb|m[aä]r|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[a-zä]{0,6}\\.?";

/** What people and programs write in place of a count; the first that fits is the answer. */
const MISTAKES: readonly CountMistake[] = [
  {
    pattern: /^(?:na|n\/a|nan|null|none|nil|nd|n\.d\.|missing|tbd|\?+|[-–—−]+|\.+|·)$/i,
    code: "missing-count",
    says: "stands for a missing value",
    hint: "write the number of animals, 0 for none, or leave the row out",
  },
  { pattern: FORMULA_ERROR, code: "error-cell", says: "is the error of a formula" },
  { pattern: /^[1-9]\d*$/, code: "large-count", says: `is more than ${LARGEST_COUNT}` },
  {
    pattern: /^0\d+$/,
    code: "bad-count",
    says: "has leading zeros and may be a code in the wrong column",
    hint: "write the number of animals without leading zeros",
  },
  { pattern: /^[-–−]\s*[\d.,]+$/, code: "negative-count", says: "has a minus sign" },
  {
    pattern: /^(?:x+|p|pres\.?|present|presence|yes|y|✓|✔|\*+|\++)$/i,
    code: "bad-count",
    says: "says that animals were there, not how many",
  },
  {
    pattern: new RegExp(
      `^(?:\\d{1,2}[-/. ]{0,2}${MONTH}(?:[-/. ]{0,2}\\d{2,4})?|${MONTH}[-/. ]{0,2}\\d{1,4})$`,
      "i",
    ),
    code: "bad-count",
    says: "is a date; a spreadsheet program may have changed the number",
    hint: "format the column as text or number, and write the number again from the bench sheet",
  },
  {
    pattern: /^(?:\d{4}-\d{1,2}-\d{1,2}(?:[t ][\d:.z+-]+)?|\d{1,2}[/.]\d{1,2}[/.]\d{2,4})$/i,
    code: "bad-count",
    says: "is a date; a spreadsheet program may have changed the number",
    hint: "format the column as text or number, and write the number again from the bench sheet",
  },
  { pattern: /^\d+\s*\/\s*\d+$/, code: "bad-count", says: "is a fraction or a date" },
  { pattern: /^\d+\s*(?:[-–—]|to|\.\.)\s*\d+$/i, code: "bad-count", says: "is a range or a date" },
  {
    pattern: /^\d{1,3}(?:[\s,.'’]\d{3})+$/,
    code: "bad-count",
    says: "has a thousands mark or a decimal mark, and the two cannot be told apart",
    hint: "write plain digits without any mark, for instance 1234",
  },
  {
    pattern: /^\d+[.,]0+$/,
    code: "bad-count",
    says: "is written with decimals",
    hint: "write whole animals in plain digits, for instance 12 for 12.0",
  },
  {
    pattern: /^\d*,\d+$/,
    code: "bad-count",
    says: "is not a whole number (it has a decimal comma)",
    hint: "write whole animals; an estimate from a part of the sample belongs in fraction_sorted",
  },
  {
    pattern: /^(?:\d*\.\d+|\d+\.)$/,
    code: "bad-count",
    says: "is not a whole number",
    hint: "write whole animals; an estimate from a part of the sample belongs in fraction_sorted",
  },
  {
    pattern: /^[+-]?\d+(?:[.,]\d+)?e[+-]?\d+$/i,
    code: "bad-count",
    says: "is written with an exponent",
    hint: "write all digits, for instance 1200 for 1.2E3",
  },
  { pattern: /^[+-]?0[xob][\da-f]+$/i, code: "bad-count", says: "is not a decimal number" },
  { pattern: /^[+-]?(?:inf|infinity|∞)$/i, code: "bad-count", says: "is not a number" },
  { pattern: /^\+\d+$/, code: "bad-count", says: "has a sign" },
  {
    pattern: /^(?:(?:~|≈|≃|ca?\.?|circa|about|approx\.?|[<>≤≥]=?)\s*\d+|\d+\s*[+?*])$/i,
    code: "bad-count",
    says: "is an estimate",
    hint: "write the number of animals that were counted; put the doubt into the note",
  },
  {
    pattern: /^\p{Nd}+$/u,
    code: "bad-count",
    says: "is not written in the digits 0 to 9",
  },
  { pattern: /^\d+\s*\p{L}.*$/u, code: "bad-count", says: "has text behind the number" },
];

/** Says what is wrong with a cell that `plainCount` did not take. */
export function countFault(cell: string): CellFault {
  const text = cell.trim();
  if (text === "") return { code: "blank-count", message: "the count is blank" };
  const shown = `count ${quoted(text)}`;
  // No number of animals is this long; and no pattern is tried on a text of any length.
  if (text.length <= 200) {
    for (const mistake of MISTAKES) {
      if (mistake.pattern.test(text))
        return { code: mistake.code, message: `${shown} ${mistake.says}`, hint: mistake.hint };
    }
  }
  return { code: "bad-count", message: `${shown} is not a whole number` };
}
