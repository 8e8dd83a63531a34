import { type Exact, fraction, parseDecimal, simplify } from "../model/exact.ts";

/** A value that could not be read, with what to write instead. */
export interface Misread {
  readonly hint: string;
}

/**
 * Reads a share above 0 and at most 1 exactly, as a decimal number or a fraction of whole numbers: a third of a
 * grid is 1/3 and nothing else.
 */
export function parseExactShare(text: string): { readonly value: Exact } | Misread {
  const parts = /^(\d{1,9})\s*\/\s*(\d{1,9})$/.exec(text);
  if (parts !== null) {
    const [part, whole] = [Number(parts[1]), Number(parts[2])];
    if (part < 1 || whole < part) return { hint: "it is a share above 0 and at most 1" };
    return { value: simplify(fraction(part, whole)) };
  }
  const share = parseShare(text);
  const exact = parseDecimal(text);
  if ("hint" in share) return share;
  return exact === undefined ? { hint: "write a share such as 0.25 or 1/3" } : { value: exact };
}

/** A plain decimal number as written: digits, at most one dot with digits on both sides, a sign. */
const DECIMAL = /^[+-]?\d{1,15}(?:\.\d{1,15})?$/;

/** Reads a whole number from 0 in plain digits; undefined for anything else. */
export function parseWhole(text: string): number | undefined {
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}

/** Reads a decimal number with a dot; a hint when it is written another way. */
export function parseNumber(text: string): { readonly value: number } | Misread {
  if (DECIMAL.test(text)) return { value: Number(text) };
  if (/^[+-]?\d*,\d+$/.test(text)) return { hint: "write a dot for the decimal comma" };
  if (/^[+-]?\.\d+$/.test(text)) return { hint: `write 0${text.replace(/^[+-]/, "")}` };
  if (/^[+-]?\d+\.$/.test(text)) return { hint: `write ${text.slice(0, -1)}` };
  if (/^[+-]?\d{1,3}(?:[\s,.'’]\d{3})+(?:[.,]\d+)?$/.test(text))
    return { hint: "write the number without thousands marks and with a dot" };
  if (/^[+-]?\d+(?:\.\d+)?\s*[^\d\s.,]/.test(text))
    return { hint: "write the number alone, without its unit" };
  return { hint: "write a plain number such as 12 or 0.75" };
}

/** Reads a share above 0 and at most 1, unless `orZero` lets 0 in. */
export function parseShare(text: string, orZero = false): { readonly value: number } | Misread {
  const percent = /^(\d{1,3}(?:\.\d+)?)\s*%$/.exec(text);
  if (percent?.[1] !== undefined)
    return { hint: `write ${Number(percent[1])} percent as a share, ${shareOf(percent[1])}` };
  if (/^\d+\s*\/\s*\d+$/.test(text)) return { hint: "write the fraction as a decimal number, 0.25 for 1/4" };
  const number = parseNumber(text);
  if ("hint" in number) return number;
  if (number.value > 1 && number.value <= 100)
    return { hint: `it is a share from 0 to 1; for ${text} percent write ${shareOf(text)}` };
  if (number.value < 0 || number.value > 1) return { hint: "it is a share from 0 to 1" };
  if (number.value === 0 && !orZero) return { hint: "it is a share above 0" };
  return number;
}

/** A percentage as a share, by moving the dot of its text. */
function shareOf(percent: string): string {
  return String(Number((Number(percent) / 100).toPrecision(12)));
}

const ISO_DATE =
  /^(\d{4})-(\d{2})-(\d{2})(?:[T ]([01]\d|2[0-3]):[0-5]\d(?::[0-5]\d(?:\.\d{1,9})?)?(?:Z|[+-]\d{2}:?\d{2})?)?$/;

/**
 * Reads a calendar date, alone or with a time of day (ISO 8601-1:2019, 5.2.2.1 and 5.4.2.1, extended format).
 * The day must exist: 2023-02-29 does not.
 */
export function parseIsoDate(text: string): { readonly date: string } | Misread {
  const match = ISO_DATE.exec(text);
  if (match === null) return { hint: dateHint(text) };
  const [, year = "", month = "", day = ""] = match;
  if (Number(month) < 1 || Number(month) > 12) return { hint: `there is no month ${month}` };
  const last = daysIn(Number(year), Number(month));
  if (Number(day) < 1 || Number(day) > last)
    return { hint: `${year}-${month} has the days 01 to ${String(last).padStart(2, "0")}` };
  return { date: `${year}-${month}-${day}` };
}

function dateHint(text: string): string {
  const parts = /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{4}|\d{2})$/.exec(text);
  if (parts !== null) return turnedDateHint(parts);
  if (/^\d{5}(?:\.\d+)?$/.test(text))
    return "this is the day number of a spreadsheet; format the column as a date, or write year-month-day";
  if (/^\d{4}-\d{1,2}-\d{1,2}$/.test(text))
    return "write month and day with two digits, for instance 2024-07-06";
  if (/^\d{8}$/.test(text)) return "write it with hyphens, for instance 2024-07-06";
  return "write year-month-day, for instance 2024-07-06";
}

/** Day and month in either order. Which one it is cannot be guessed, but the dates that it may be can be named. */
function turnedDateHint([, first = "", second = "", year = ""]: RegExpExecArray): string {
  const usual = "write year-month-day, for instance 2024-07-06";
  if (year.length === 2) return `${usual}: day, month and year cannot be told apart here`;
  const dates = [
    [first, second],
    [second, first],
  ]
    .map(([month = "", day = ""]) => `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`)
    .filter((date) => "date" in parseIsoDate(date));
  const [one, other = one] = dates;
  if (one === undefined) return usual;
  return one === other ? `write ${one}` : `write ${one} or ${other}: day and month cannot be told apart here`;
}

function daysIn(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Reads yes or no in the usual spellings; undefined for anything else. */
export function parseYesNo(text: string): boolean | undefined {
  switch (text.toLowerCase()) {
    case "yes":
    case "y":
    case "true":
    case "1":
      return true;
    case "no":
    case "n":
    case "false":
    case "0":
      return false;
    default:
      return undefined;
  }
}
