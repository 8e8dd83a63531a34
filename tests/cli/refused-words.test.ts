import { stripVTControlCharacters } from "node:util";
import { beforeAll, describe, expect, it } from "vitest";
import { runInside } from "../helpers/in-process.ts";
import { demoFolder } from "../helpers/run-jartally.ts";

let cwd = "";
beforeAll(() => {
  cwd = demoFolder();
});

const SET = ["--reference", "vennaloo-demo"];
const run = (line: string) =>
  runInside(
    line.split(" ").map((word) => (word === "''" ? "" : word)),
    cwd,
  );

describe("words that cannot be meant", () => {
  it.each([
    ["check", "missing required argument"],
    ["metrics bench-sheet.csv", "--reference"],
    ["metrics bench-sheet.csv --reference vennaloo-demo --only taxa_richness,,x", "no list|not a list"],
    ["metrics --list zzzz", 'no metric is called "zzzz"'],
    [
      "metrics bench-sheet.csv --names names.csv --reference vennaloo-demo --only zzzz",
      'no metric is called "zzzz"',
    ],
    ["subsample bench-sheet.csv --target 0", "at least 1"],
    ["subsample bench-sheet.csv --target 4194305", "a draw of 4194305 animals is too large: 4194304 at most"],
    [
      "score bench-sheet.csv --reference vennaloo-demo --target 4194305",
      "too large: 4194304 at most.*--target none",
    ],
    ["grids sample-log.csv --tray 5x6 --target 0", "at least 1"],
    ["grids sample-log.csv --tray 5x6 --level 0", "from 1 to 9"],
    ["grids status - -", "standard input"],
    ["qc choose - --checked - --share 10%", "standard input|once only"],
    ["qc choose sample-log.csv --share 10% --by sorter --only ,", "name at least one group"],
    ["qc duplicates - --samples -", "standard input|once only"],
    ["explain bench-sheet.csv --names names.csv --reference vennaloo-demo", "--sample"],
    ["explain bench-sheet.csv --sample U1-2023-06", "--reference"],
    ["explain bench-sheet.csv --names names.csv --reference vennaloo-demo --sample U1", "it has U1-2023-06"],
    ["explain bench-sheet.csv --names names.csv --reference vennaloo-demo --sample 2023", "and \\d+ more"],
    ["explain bench-sheet.csv --names names.csv --reference vennaloo-demo --sample ''", "no sample"],
    ["explain bench-sheet.csv --names names.csv --reference vennaloo-demo --sample qqqqqqqq", "no sample"],
    ["init ''", "name the folder"],
    ["score bench-sheet.csv --reference vennaloo-demo --attributes a,,b", "--attributes"],
    ["score bench-sheet.csv --samples --reference vennaloo-demo", "lacks its value"],
  ])("%s is wrong usage and says what is missing", async (line, words) => {
    const { status, stdout, stderr } = await run(line);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(new RegExp(words));
    expect(stderr).not.toMatch(/\n\s+at /);
  });
});

describe("the default, said aloud, is what the command does without it", () => {
  it.each([
    [
      ["score", "bench-sheet.csv", "--names", "names.csv", ...SET, "-q"],
      ["--layout", "wide"],
    ],
    [
      ["score", "bench-sheet.csv", "--names", "names.csv", ...SET, "-q"],
      ["--from", "counts"],
    ],
    [
      ["score", "bench-sheet.csv", "--names", "names.csv", ...SET, "-q"],
      ["--color", "auto"],
    ],
    [
      ["subsample", "bench-sheet.csv", "--names", "names.csv", "--target", "50", "-q"],
      ["--by", "individual"],
    ],
    [
      ["grids", "sample-log.csv", "--tray", "5x6", "-q"],
      ["--layout", "order"],
    ],
    [
      ["qc", "duplicates", "qc-scores.csv", "--samples", "qc-duplicates-log.csv", "-q"],
      ["--by", "duplicate_of"],
    ],
  ])("%j %j", async (words, said) => {
    const plain = await runInside(words, cwd);
    expect(plain.stdout).not.toBe("");
    expect(await runInside([...words, ...said], cwd)).toEqual(plain);
  });
});

describe("on a terminal", () => {
  it.each([
    [["reference", "list"], 80],
    [["reference", "list"], 140],
    [["reference", "check", "vennaloo-demo", "puget-lowland-genus-1999"], 80],
    [["score", "bench-sheet.csv", "--names", "names.csv", ...SET, "-q"], 80],
    [["check", "bench-sheet.csv", "--names", "names.csv", "-q"], 80],
    [["qc", "sorting", "qc-sorting-check.csv", "-q"], 80],
  ])("%j keeps within %d columns and has no row of a pipe", async (words, columns) => {
    const { stdout } = await runInside(words, cwd, undefined, columns);
    expect(stdout).toContain("─");
    const lines = stripVTControlCharacters(stdout).split("\n");
    expect(lines.filter((line) => line.length > columns)).toEqual([]);
    expect((await runInside(words, cwd)).stdout).not.toContain("─");
  });
});
