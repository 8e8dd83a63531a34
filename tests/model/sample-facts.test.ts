import { describe, expect, it } from "vitest";
import type { SampleFacts } from "../../src/model/sample-facts.ts";
import { fact, fractionSorted, numericFact } from "../../src/model/sample-facts.ts";

const facts = (texts: Readonly<Record<string, string>>): SampleFacts => ({
  sampleId: "S1",
  texts: new Map(Object.entries(texts)),
  file: "log.csv",
  line: 2,
  columns: new Map(),
});

describe("facts of a sample", () => {
  it("are texts as written, or nothing", () => {
    expect(fact(facts({ gear: "D-net" }), "gear")).toBe("D-net");
    expect(fact(facts({}), "gear")).toBe(undefined);
    expect(fact(undefined, "gear")).toBe(undefined);
  });

  it.each<[string, number | undefined]>([
    ["0", 0],
    ["12", 12],
    ["12.25", 12.25],
    ["-0.5", -0.5],
    ["+3", 3],
    ["", undefined],
    [".5", undefined],
    ["5.", undefined],
    ["1e3", undefined],
    ["1,5", undefined],
    ["x12", undefined],
    ["12 m", undefined],
    ["two", undefined],
    ["1.2.3", undefined],
    ["Infinity", undefined],
  ])("the number %j is %s", (text, value) => {
    expect(numericFact(facts({ flow: text }), "flow")).toBe(value);
  });

  it("give no number where there is no fact", () => {
    expect(numericFact(facts({}), "flow")).toBe(undefined);
    expect(numericFact(undefined, "flow")).toBe(undefined);
  });
});

describe("the share of a sample that was sorted", () => {
  it.each<[Readonly<Record<string, string>>, number | undefined]>([
    [{ fraction_sorted: "0.25" }, 0.25],
    [{ fraction_sorted: "1" }, 1],
    [{ fraction_sorted: "1.01" }, undefined],
    [{ fraction_sorted: "0" }, undefined],
    [{ fraction_sorted: "-0.5" }, undefined],
    // What is given stands, even when grids would say something else.
    [{ fraction_sorted: "0.5", grids_sorted: "3", tray: "5x6" }, 0.5],
    [{ fraction_sorted: "2", grids_sorted: "3", tray: "5x6" }, undefined],
    // 3 grids of 5 times 6
    [{ grids_sorted: "3", tray: "5x6" }, 0.1],
    [{ grids_sorted: "3", tray: "5 X 6" }, 0.1],
    [{ grids_sorted: "3", tray: "5  ×  6" }, 0.1],
    [{ grids_sorted: "12", tray: "10x12" }, 0.1],
    [{ grids_sorted: "30", tray: "5x6" }, 1],
    [{ grids_sorted: "31", tray: "5x6" }, undefined],
    [{ grids_sorted: "0", tray: "5x6" }, undefined],
    [{ grids_sorted: "-3", tray: "5x6" }, undefined],
    [{ grids_sorted: "3" }, undefined],
    [{ tray: "5x6" }, undefined],
    [{ grids_sorted: "3", tray: "5by6" }, undefined],
    [{ grids_sorted: "3", tray: "a 5x6" }, undefined],
    [{ grids_sorted: "3", tray: "5x6 grids" }, undefined],
    [{}, undefined],
  ])("%j: %s", (texts, share) => {
    expect(fractionSorted(facts(texts))).toBe(share);
  });

  it("is not known without a row in the log", () => {
    expect(fractionSorted(undefined)).toBe(undefined);
  });
});
