import { describe, expect, it } from "vitest";
import { declaredDelimiter, findDelimiter } from "../../../src/files/text/delimiter.ts";

describe("finding the delimiter", () => {
  it.each([
    ["commas", "a,b,c\n1,2,3\n", ","],
    ["semicolons", "a;b;c\n1;2;3\n", ";"],
    ["tabs", "a\tb\tc\n1\t2\t3\n", "\t"],
    ["semicolons with decimal commas", "a;b;c\n1,5;2,5;3,5\n", ";"],
    ["commas with semicolons in notes", "a,b,note\n1,2,x;y;z\n3,4,u;v\n", ","],
    ["delimiters within quotes", '"a;b;c;d",b\n"1;2;3;4",2\n', ","],
    ["a header with a comma in a semicolon table", "taxon;S1;count, total\nBaetis;3;3\nSimulium;1;1\n", ";"],
    ["one column", "sample_id\nS1\nS2\n", ","],
    ["nothing", "", ","],
    ["a table cut off in its first row", "a;b;c", ";"],
    ["blank lines first", "\n\na\tb\n1\t2\n", "\t"],
  ])("sees %s", (_, text, delimiter) => {
    expect(findDelimiter(text)).toBe(delimiter);
  });

  it.each([
    ["sep=;", ";"],
    ["SEP=,", ","],
    ["sep=\t", "\t"],
    ["sep=|", undefined],
    ["sample_id;taxon", undefined],
  ])("takes the word of a first line %j", (line, delimiter) => {
    expect(declaredDelimiter(line)).toBe(delimiter);
  });
});
