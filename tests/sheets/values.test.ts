import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  parseExactShare,
  parseIsoDate,
  parseNumber,
  parseShare,
  parseWhole,
  parseYesNo,
} from "../../src/sheets/values.ts";

describe("dates", () => {
  it("takes every day of the calendar and no other", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1800, max: 2400 }),
        fc.integer({ min: 0, max: 13 }),
        fc.integer({ min: 0, max: 32 }),
        (year, month, day) => {
          const text = `${year}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
          // The proleptic Gregorian calendar of the language (ECMA-262, 21.4.1) as the second opinion.
          const date = new Date(Date.UTC(year, month - 1, day));
          const isReal = date.toISOString().slice(0, 10) === text;
          expect("date" in parseIsoDate(text)).toBe(isReal);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it.each([
    ["2024-02-29", "2024-02-29"],
    ["2024-06-07T10:30", "2024-06-07"],
    ["2024-06-07T10:30:15Z", "2024-06-07"],
    ["2024-06-07T10:30:15.5+02:00", "2024-06-07"],
  ])("%s is a day", (text, date) => {
    expect(parseIsoDate(text)).toEqual({ date });
  });

  it.each([
    ["2023-02-29", "2023-02 has the days 01 to 28"],
    ["1900-02-29", "1900-02 has the days 01 to 28"],
    ["2024-13-01", "there is no month 13"],
    ["7/6/2024", "write 2024-07-06 or 2024-06-07: day and month cannot be told apart here"],
    ["13.06.2024", "write 2024-06-13"],
    ["06/13/2024", "write 2024-06-13"],
    ["6/6/2024", "write 2024-06-06"],
    ["31/31/2024", "write year-month-day, for instance 2024-07-06"],
    [
      "07.06.24",
      "write year-month-day, for instance 2024-07-06: day, month and year cannot be told apart here",
    ],
    [
      "45450",
      "this is the day number of a spreadsheet; format the column as a date, or write year-month-day",
    ],
    ["2024-6-7", "write month and day with two digits, for instance 2024-07-06"],
    ["20240607", "write it with hyphens, for instance 2024-07-06"],
    ["June 7", "write year-month-day, for instance 2024-07-06"],
    ["2024-06-07T25:00", "write year-month-day, for instance 2024-07-06"],
  ])("%s is none, and the hint says what to write", (text, hint) => {
    expect(parseIsoDate(text)).toEqual({ hint });
  });
});

describe("numbers", () => {
  it.each([
    ["12", 12],
    ["0.75", 0.75],
    ["-47.102", -47.102],
    ["+3", 3],
  ])("%s is read", (text, value) => {
    expect(parseNumber(text)).toEqual({ value });
  });

  it.each([
    ["0,72", "write a dot for the decimal comma"],
    [".5", "write 0.5"],
    ["5.", "write 5"],
    ["1 234", "write the number without thousands marks and with a dot"],
    ["1.234,5", "write the number without thousands marks and with a dot"],
    ["500 um", "write the number alone, without its unit"],
    ["12\u00b5m", "write the number alone, without its unit"],
    ["1e3", "write the number alone, without its unit"],
    ["half", "write a plain number such as 12 or 0.75"],
    ["NaN", "write a plain number such as 12 or 0.75"],
    ["Infinity", "write a plain number such as 12 or 0.75"],
  ])("%s is not, and the hint says what to write", (text, hint) => {
    expect(parseNumber(text)).toEqual({ hint });
  });

  it("whole numbers are digits only", () => {
    expect(["12", "0", "007", "1.0", "-1", "1e3", "", "\u0661"].map(parseWhole)).toEqual([
      12,
      0,
      7,
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
  });
});

describe("shares", () => {
  it.each([
    ["0.25", 0.25],
    ["1", 1],
    ["1.0", 1],
  ])("%s is a share", (text, value) => {
    expect(parseShare(text)).toEqual({ value });
  });

  it.each([
    ["25%", "write 25 percent as a share, 0.25"],
    ["80", "it is a share from 0 to 1; for 80 percent write 0.8"],
    ["1/4", "write the fraction as a decimal number, 0.25 for 1/4"],
    ["0", "it is a share above 0"],
    ["-0.5", "it is a share from 0 to 1"],
    ["300", "it is a share from 0 to 1"],
    ["0,25", "write a dot for the decimal comma"],
  ])("%s is none, and the hint says what to write", (text, hint) => {
    expect(parseShare(text)).toEqual({ hint });
  });

  it("a third is exact", () => {
    expect(parseExactShare("1/3")).toEqual({ value: { num: 1, den: 3 } });
    expect(parseExactShare("2 / 6")).toEqual({ value: { num: 1, den: 3 } });
    expect(parseExactShare("0.125")).toEqual({ value: { num: 1, den: 8 } });
    expect(parseExactShare("4/4")).toEqual({ value: { num: 1, den: 1 } });
    expect(parseExactShare("0/4")).toEqual({ hint: "it is a share above 0 and at most 1" });
    expect(parseExactShare("1/0")).toEqual({ hint: "it is a share above 0 and at most 1" });
    expect(parseExactShare("5/4")).toEqual({ hint: "it is a share above 0 and at most 1" });
    expect(parseExactShare("0.1234567890123456")).toHaveProperty("hint");
  });
});

it("yes and no have their usual spellings", () => {
  expect(["yes", "Y", "TRUE", "1", "no", "N", "false", "0", "x", ""].map(parseYesNo)).toEqual([
    true,
    true,
    true,
    true,
    false,
    false,
    false,
    false,
    undefined,
    undefined,
  ]);
});
