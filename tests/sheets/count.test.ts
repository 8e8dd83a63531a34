import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LARGEST_COUNT } from "../../src/model/rows.ts";
import { countFault, plainCount } from "../../src/sheets/count.ts";

describe("counts", () => {
  it.each([
    ["0", 0],
    ["3", 3],
    ["12", 12],
    [" 12 ", 12],
    ["\u00a012\t", 12],
    ["1000000000", LARGEST_COUNT],
  ])("%j is %i", (cell, count) => {
    expect(plainCount(cell)).toBe(count);
  });

  it("reads every whole number back and nothing else as that number", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: LARGEST_COUNT }), (count) => {
        expect(plainCount(String(count))).toBe(count);
      }),
    );
    fc.assert(
      fc.property(fc.string({ maxLength: 12 }), (cell) => {
        const count = plainCount(cell);
        if (count >= 0) expect(cell.trim()).toBe(String(count));
        else expect(countFault(cell).message.length).toBeGreaterThan(10);
      }),
      { numRuns: 2000 },
    );
  });

  // Each way of not writing a count has its own answer; none of them is ever a number.
  it.each([
    ["", "blank-count", "the count is blank"],
    ["  ", "blank-count", "the count is blank"],
    ["12,5", "bad-count", 'count "12,5" is not a whole number (it has a decimal comma)'],
    ["12,0", "bad-count", 'count "12,0" is written with decimals'],
    ["12.0", "bad-count", 'count "12.0" is written with decimals'],
    ["12.5", "bad-count", 'count "12.5" is not a whole number'],
    [".5", "bad-count", 'count ".5" is not a whole number'],
    ["12.", "bad-count", 'count "12." is not a whole number'],
    [
      "1,234",
      "bad-count",
      'count "1,234" has a thousands mark or a decimal mark, and the two cannot be told apart',
    ],
    [
      "1.234",
      "bad-count",
      'count "1.234" has a thousands mark or a decimal mark, and the two cannot be told apart',
    ],
    [
      "1 234",
      "bad-count",
      'count "1 234" has a thousands mark or a decimal mark, and the two cannot be told apart',
    ],
    [
      "1\u202f234",
      "bad-count",
      'count "1\u202f234" has a thousands mark or a decimal mark, and the two cannot be told apart',
    ],
    [
      "1'234",
      "bad-count",
      `count "1'234" has a thousands mark or a decimal mark, and the two cannot be told apart`,
    ],
    ["NA", "missing-count", 'count "NA" stands for a missing value'],
    ["n/a", "missing-count", 'count "n/a" stands for a missing value'],
    ["NaN", "missing-count", 'count "NaN" stands for a missing value'],
    ["null", "missing-count", 'count "null" stands for a missing value'],
    ["-", "missing-count", 'count "-" stands for a missing value'],
    ["\u2014", "missing-count", 'count "\u2014" stands for a missing value'],
    [".", "missing-count", 'count "." stands for a missing value'],
    ["?", "missing-count", 'count "?" stands for a missing value'],
    ["#N/A", "error-cell", 'count "#N/A" is the error of a formula'],
    ["#DIV/0!", "error-cell", 'count "#DIV/0!" is the error of a formula'],
    ["-3", "negative-count", 'count "-3" has a minus sign'],
    ["-0", "negative-count", 'count "-0" has a minus sign'],
    ["\u22123", "negative-count", 'count "\u22123" has a minus sign'],
    ["-1,5", "negative-count", 'count "-1,5" has a minus sign'],
    ["+3", "bad-count", 'count "+3" has a sign'],
    ["007", "bad-count", 'count "007" has leading zeros and may be a code in the wrong column'],
    ["00", "bad-count", 'count "00" has leading zeros and may be a code in the wrong column'],
    ["1000000001", "large-count", 'count "1000000001" is more than 1000000000'],
    ["9007199254740993", "large-count", 'count "9007199254740993" is more than 1000000000'],
    ["1e3", "bad-count", 'count "1e3" is written with an exponent'],
    ["1.2E+03", "bad-count", 'count "1.2E+03" is written with an exponent'],
    ["0x10", "bad-count", 'count "0x10" is not a decimal number'],
    ["Infinity", "bad-count", 'count "Infinity" is not a number'],
    ["-Infinity", "bad-count", 'count "-Infinity" is not a number'],
    ["3-Jan", "bad-count", 'count "3-Jan" is a date; a spreadsheet program may have changed the number'],
    ["Jan-03", "bad-count", 'count "Jan-03" is a date; a spreadsheet program may have changed the number'],
    [
      "3. M\u00e4rz",
      "bad-count",
      'count "3. M\u00e4rz" is a date; a spreadsheet program may have changed the number',
    ],
    [
      "2024-01-03",
      "bad-count",
      'count "2024-01-03" is a date; a spreadsheet program may have changed the number',
    ],
    [
      "1/3/2024",
      "bad-count",
      'count "1/3/2024" is a date; a spreadsheet program may have changed the number',
    ],
    ["1/3", "bad-count", 'count "1/3" is a fraction or a date'],
    ["10-20", "bad-count", 'count "10-20" is a range or a date'],
    ["~50", "bad-count", 'count "~50" is an estimate'],
    [">100", "bad-count", 'count ">100" is an estimate'],
    ["100+", "bad-count", 'count "100+" is an estimate'],
    ["ca. 50", "bad-count", 'count "ca. 50" is an estimate'],
    ["x", "bad-count", 'count "x" says that animals were there, not how many'],
    ["present", "bad-count", 'count "present" says that animals were there, not how many'],
    ["12abc", "bad-count", 'count "12abc" has text behind the number'],
    ["12 ind.", "bad-count", 'count "12 ind." has text behind the number'],
    ["\u0661\u0662", "bad-count", 'count "\u0661\u0662" is not written in the digits 0 to 9'],
    ["\uff11\uff12", "bad-count", 'count "\uff11\uff12" is not written in the digits 0 to 9'],
    ["'12", "bad-count", `count "'12" is not a whole number`],
    ["twelve", "bad-count", 'count "twelve" is not a whole number'],
    ["1\u0000", "bad-count", 'count "1\\x00" is not a whole number'],
  ])("%j is refused in its own words", (cell, code, message) => {
    expect(plainCount(cell)).toBe(-1);
    expect(countFault(cell)).toMatchObject({ code, message });
  });

  it("takes no time over long cells", () => {
    const start = process.hrtime.bigint();
    for (const piece of ["a", " ", ",", "1", "-", "1,", "1 ", ".", "0", "jan", "é"]) {
      const cell = piece.repeat(100_000);
      expect(plainCount(cell)).toBe(-1);
      expect(countFault(cell).message.length).toBeLessThan(200);
    }
    expect(Number(process.hrtime.bigint() - start) / 1e6).toBeLessThan(550);
  });
});
