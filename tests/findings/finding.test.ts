import { describe, expect, it } from "vitest";
import { FindingCollector } from "../../src/findings/collector.ts";
import { finding, sortFindings, wholeFile } from "../../src/findings/finding.ts";
import { findingEntry } from "../../src/findings/register.ts";

const at = (file: string, line = 1, column = 1) => ({ file, line, column });

describe("a finding", () => {
  it("takes what it weighs and what to do from the register", () => {
    const { severity, hint } = findingEntry("bad-count");
    expect(finding("bad-count", at("a.csv", 2, 3), { message: "x" })).toEqual({
      code: "bad-count",
      severity,
      hint,
      file: "a.csv",
      line: 2,
      column: 3,
      message: "x",
      sampleId: "",
    });
  });

  it("takes them from the caller where the situation is known better", () => {
    const own = { message: "x", sampleId: "S1", hint: "look again", severity: "note" } as const;
    expect(finding("bad-count", at("a.csv"), own)).toEqual({ code: "bad-count", ...at("a.csv"), ...own });
    // An empty hint says that there is nothing to do; it is not the register's.
    expect(finding("bad-count", at("a.csv"), { message: "x", hint: "" }).hint).toBe("");
  });

  it("is cut where it repeats too much of a file, between two characters", () => {
    const messageOf = (message: string) => finding("bad-count", at("a.csv"), { message }).message;
    expect(messageOf("x".repeat(1000))).toBe("x".repeat(1000));
    expect(messageOf("x".repeat(1001))).toBe(`${"x".repeat(999)}…`);
    // A character of two halves is kept whole or left out whole.
    const fish = "\u{1F41F}";
    expect(messageOf(`${"x".repeat(998)}${fish}xx`)).toBe(`${"x".repeat(998)}…`);
    expect(messageOf(`${fish}${"x".repeat(1000)}`)).toBe(`${fish}${"x".repeat(997)}…`);
    expect(messageOf(`${"x".repeat(997)}${fish}xxx`)).toBe(`${"x".repeat(997)}${fish}…`);
  });

  it("concerns the whole file at 0:0", () => {
    expect(wholeFile("a.csv")).toEqual({ file: "a.csv", line: 0, column: 0 });
  });
});

describe("the order of findings", () => {
  const order = (files: readonly string[], inputs: readonly string[]) =>
    sortFindings(
      files.map((file) => finding("bad-count", at(file), { message: "x" })),
      inputs,
    ).map(({ file }) => file);

  it("is that of the inputs, an input given twice standing where it was given first", () => {
    expect(order(["a", "b", "c"], ["c", "b", "a"])).toEqual(["c", "b", "a"]);
    expect(order(["a", "b"], ["a", "b", "a"])).toEqual(["a", "b"]);
  });

  it("within a field is that of the codes, then of the samples, then of the messages", () => {
    const list = [
      ["bad-count", "S2", "about a"],
      ["unknown-taxon", "S1", "about a"],
      ["bad-count", "S1", "about b"],
      ["bad-count", "S1", "about a"],
    ] as const;
    const sorted = sortFindings(
      list.map(([code, sampleId, message]) => finding(code, at("a"), { message, sampleId })),
      ["a"],
    );
    expect(sorted.map(({ code, sampleId, message }) => [code, sampleId, message])).toEqual([
      ["bad-count", "S1", "about a"],
      ["bad-count", "S1", "about b"],
      ["bad-count", "S2", "about a"],
      ["unknown-taxon", "S1", "about a"],
    ]);
  });

  it("leaves the list that it was given as it was", () => {
    const list = ["b", "a"].map((file) => finding("bad-count", at(file), { message: "x" }));
    sortFindings(list, []);
    expect(list.map(({ file }) => file)).toEqual(["b", "a"]);
  });

  it("puts files that are no input last, by name", () => {
    expect(order(["y", "x", "b", "a"], ["b", "a"])).toEqual(["b", "a", "x", "y"]);
    expect(order(["y", "x"], [])).toEqual(["x", "y"]);
  });
});

describe("the collector", () => {
  it("keeps findings in the order in which they came and counts them by weight", () => {
    const collector = new FindingCollector();
    expect(collector.all).toEqual([]);
    expect(collector.count("error")).toBe(0);
    const list = [
      finding("bad-count", at("b"), { message: "1", severity: "error" }),
      finding("bad-count", at("a"), { message: "2", severity: "note" }),
      finding("bad-count", at("a"), { message: "3", severity: "error" }),
    ];
    for (const one of list) collector.add(one);
    expect(collector.all).toEqual(list);
    expect([collector.count("error"), collector.count("warning"), collector.count("note")]).toEqual([
      2, 0, 1,
    ]);
  });
});
