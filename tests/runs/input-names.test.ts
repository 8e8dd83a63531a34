import { describe, expect, it } from "vitest";
import { baseName, nameInputs } from "../../src/runs/input-names.ts";

describe("names of inputs", () => {
  it("are the last parts of the paths, whatever folder they were named from", () => {
    expect(["a.csv", "./a.csv", "/lab/2024/a.csv", "..\\lab\\a.csv", "lab/a.csv/"].map(baseName)).toEqual(
      Array.from({ length: 5 }, () => "a.csv"),
    );
    expect(baseName("2024/batch.xlsx#Bench 1")).toBe("batch.xlsx#Bench 1");
    expect(baseName("<stdin>")).toBe("<stdin>");
  });

  it("are each there once", () => {
    const names = nameInputs(["x/a.csv", "y/a.csv", "b.csv", "z/a.csv"]);
    expect(names.names).toEqual(["a.csv", "a.csv (2)", "b.csv", "a.csv (3)"]);
    expect(names.nameOf("y/a.csv")).toBe("a.csv (2)");
  });

  it("stand for the paths in a text, the longest path first", () => {
    const names = nameInputs(["x/a.csv", "/deep/x/a.csv"]);
    expect(names.inText("the same as in /deep/x/a.csv and x/a.csv")).toBe(
      "the same as in a.csv (2) and a.csv",
    );
  });
});
