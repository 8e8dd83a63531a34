import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseShare, shareOf } from "../../src/quality/share.ts";

describe("parseShare", () => {
  it.each([
    ["10%", 1, 10],
    ["10 %", 1, 10],
    ["0.1", 1, 10],
    ["1/10", 1, 10],
    ["12.5%", 1, 8],
    ["1", 1, 1],
    ["100%", 1, 1],
    [" 1 / 3 ", 1, 3],
  ])("reads %j", (text, num, den) => {
    expect(parseShare(text)).toEqual({ num, den });
  });

  it.each(["", "0", "0%", "101%", "1.01", "-10%", "10", "1/0", "3/2", "10%%", "ten", "1e-1", ".1", "0,1"])(
    "refuses %j",
    (text) => {
      expect(parseShare(text)).toBeUndefined();
    },
  );
});

describe("shareOf", () => {
  it("rounds up and is exact where floating point is not", () => {
    expect(shareOf({ num: 1, den: 10 }, 47)).toBe(5);
    expect(shareOf({ num: 1, den: 10 }, 50)).toBe(5);
    expect(shareOf({ num: 1, den: 10 }, 3)).toBe(1);
    expect(shareOf({ num: 1, den: 10 }, 0)).toBe(0);
    // 0.07 x 100 is 7.000000000000001 in floating point, which would round up to 8.
    expect(shareOf({ num: 7, den: 100 }, 100)).toBe(7);
  });

  it("is the least whole number that is not under the share", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), fc.integer({ min: 0, max: 5000 }), (num, samples) => {
        const asked = shareOf({ num, den: 1000 }, samples);
        return asked * 1000 >= num * samples && (asked - 1) * 1000 < num * samples;
      }),
    );
  });
});
