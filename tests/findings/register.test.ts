import { describe, expect, it } from "vitest";
import type { FindingEntry } from "../../src/findings/define.ts";
import { finding, sortFindings } from "../../src/findings/finding.ts";
import { FINDING_REGISTER, type FindingCode, findingEntry } from "../../src/findings/register.ts";

const ENTRIES: readonly FindingEntry[] = FINDING_REGISTER;

describe("the register of finding codes", () => {
  it("has every code once", () => {
    const codes = ENTRIES.map((entry) => entry.code);
    expect(codes.filter((code, index) => codes.indexOf(code) !== index)).toEqual([]);
  });

  it("gives the entry of a code, and says so where a code is none", () => {
    for (const entry of ENTRIES) expect(findingEntry(entry.code as FindingCode)).toBe(entry);
    expect(() => findingEntry("no-such-code" as FindingCode)).toThrow(
      new RangeError("no finding has the code no-such-code"),
    );
  });

  it.each(ENTRIES.map((entry) => [entry.code, entry] as const))("%s is complete", (code, entry) => {
    expect(code).toMatch(/^[a-z]+(-[a-z0-9]+)*$/);
    expect(["error", "warning", "note"]).toContain(entry.severity);
    expect(entry.meaning).toMatch(/^[A-Z].*\.$/);
    expect(entry.hint.length).toBeGreaterThan(10);
    expect(entry.hint).not.toMatch(/\.$/);
    // FILE:LINE:COLUMN severity CODE message; a workbook is FILE#Sheet
    expect(entry.example).toMatch(new RegExp(`^\\S+:\\d+:\\d+ (error|warning|note) ${code} \\S`));
  });
});

describe("findings", () => {
  it("sort by input, line, column and code", () => {
    const place = (file: string, line: number, column: number) => ({ file, line, column });
    const list = [
      finding("bad-count", place("b.csv", 2, 3), { message: "x" }),
      finding("unknown-taxon", place("a.csv", 9, 2), { message: "x" }),
      finding("bad-count", place("a.csv", 9, 1), { message: "y" }),
      finding("bad-count", place("a.csv", 10, 1), { message: "x" }),
    ];
    const sorted = sortFindings(list, ["b.csv", "a.csv"]);
    expect(sorted.map((one) => `${one.file}:${one.line}:${one.column}`)).toEqual([
      "b.csv:2:3",
      "a.csv:9:1",
      "a.csv:9:2",
      "a.csv:10:1",
    ]);
  });

  it("take severity and hint from the register unless told otherwise", () => {
    const plain = finding("bad-count", { file: "a", line: 1, column: 1 }, { message: "m" });
    expect([plain.severity, plain.hint.length > 0, plain.sampleId]).toEqual(["error", true, ""]);
    const told = finding("bad-count", plain, { message: "m", hint: "h", severity: "note", sampleId: "S" });
    expect([told.severity, told.hint, told.sampleId]).toEqual(["note", "h", "S"]);
  });
});
