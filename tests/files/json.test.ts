import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseJson } from "../../src/files/json.ts";

function fault(text: string): string {
  const read = parseJson(text);
  return "fault" in read ? `${read.fault.line}:${read.fault.column} ${read.fault.message}` : "read";
}

describe("reading JSON strictly", () => {
  it("reads what JSON.parse reads", () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        expect(parseJson(text)).toEqual({ value: JSON.parse(text) });
      }),
      { numRuns: 500 },
    );
  });

  it("refuses exactly what JSON.parse refuses, but for keys that stand twice", () => {
    const part = fc.constantFrom(
      "{",
      "}",
      "[",
      "]",
      ",",
      ":",
      '"a"',
      '"b"',
      "1",
      "-",
      "0",
      ".5",
      "e3",
      "true",
      "null",
      " ",
      "\n",
      "\\",
      '"',
    );
    fc.assert(
      fc.property(fc.array(part, { maxLength: 10 }), (parts) => {
        const text = parts.join("");
        let isGood = true;
        try {
          JSON.parse(text);
        } catch {
          isGood = false;
        }
        const told = fault(text);
        if (told.includes("stands twice")) return;
        expect(told === "read").toBe(isGood);
      }),
      { numRuns: 3000 },
    );
  });

  it.each([
    ['{"a": 1,\n "b": {"c": 2, "c": 3}}', '2:16 the key "c" stands twice in this object'],
    ['{"a": 1, "\\u0061": 2}', '1:10 the key "\\u0061" stands twice in this object'],
    ['{"a": 1,\r\n}', "2:1 a key in quotes belongs here"],
    ['{"a" 1}', "1:6 a colon belongs here"],
    ['{"a": }', "1:7 a value belongs here"],
    ['{"a": 1 "b": 2}', "1:9 a comma or the end of the object belongs here"],
    ["[1, 2", "1:6 a comma or the end of the list belongs here"],
    ["", "1:1 it ends where a value belongs"],
    ['{"a": "x\n"}', "1:9 a control character stands in a text; write it as an escape"],
    ['["\\q"]', "1:3 this escape is not known"],
    ['["abc', "1:2 a quote opens here and is never closed"],
    ["[1] x", "1:5 there is text behind the end"],
    ["[".repeat(201), "1:201 it is nested deeper than 200 times"],
    ['// note\n{"a": 1}', "1:1 a value belongs here"],
  ])("places the fault in %j", (text, told) => {
    expect(fault(text)).toBe(told);
  });

  it("lets no key change what an object is", () => {
    const read = parseJson('{"__proto__": {"x": 1}}');
    expect(read).toHaveProperty("value");
    expect(({} as { x?: number }).x).toBe(undefined);
  });

  it("takes no longer for deep or long text than it is worth", () => {
    const start = process.hrtime.bigint();
    fault(`[${"[".repeat(1e6)}`);
    fault(`"${"\\\\".repeat(1e6)}"`);
    fault(`${" ".repeat(1e6)}1`);
    expect(Number(process.hrtime.bigint() - start) / 1e6).toBeLessThan(2000);
  });
});
