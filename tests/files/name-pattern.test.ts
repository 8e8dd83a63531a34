import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitsPattern } from "../../src/files/name-pattern.ts";

describe("names that fit a pattern", () => {
  it.each([
    ["a.csv", "*.csv", true],
    ["a.csv", "?.csv", true],
    ["ab.csv", "?.csv", false],
    ["a.csv", "a.csv", true],
    ["a+b(1).csv", "a+b(?).*", true],
    ["", "*", true],
    ["", "?", false],
    ["abcabc", "*abc", true],
    ["abcabd", "*abc", false],
    ["😀.csv", "?.csv", true],
    ["a", "", false],
  ])("%j and %j: %s", (name, pattern, fits) => expect(fitsPattern(name, pattern)).toBe(fits));

  it("agree with a regular expression of the same meaning", () => {
    const letters = fc.array(fc.constantFrom("a", "b", "."), { maxLength: 8 });
    const wanted = fc.array(fc.constantFrom("a", "b", "*", "?", "."), { maxLength: 8 });
    fc.assert(
      fc.property(letters, wanted, (name, pattern) => {
        const same = pattern.map((one) => (one === "*" ? ".*" : one === "?" ? "." : `[${one}]`)).join("");
        expect(fitsPattern(name.join(""), pattern.join(""))).toBe(
          new RegExp(`^${same}$`).test(name.join("")),
        );
      }),
    );
  });

  it("are told in a moment, however many stars there are", () => {
    const start = process.cpuUsage();
    expect(fitsPattern("a".repeat(2000), `${"*a".repeat(400)}*b`)).toBe(false);
    const { user } = process.cpuUsage(start);
    expect(user / 1e6).toBeLessThan(2);
  });
});
