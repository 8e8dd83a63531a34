import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demoFolder, runJartally } from "../../helpers/run-jartally.ts";
import { csvRows, runQc } from "./csv-rows.ts";

// Index: 43 and 37 (RPD 15), 50 and 40 (22.22), three of 60, 63 and 66 (9.52). Squares 18 + 50 + 18 = 86 over 4
// degrees of freedom: mean square 21.5, SD 4.6368. Mean 359 / 7.
const SCORES = `sample_id,status,index,rating,ept_richness
A,scored,43,fair,0
A-D,scored,37,poor,0
B,scored,50,fair,10
B-D,scored,40,fair,11
C,scored,60,good,20
C-D,scored,63,good,22
C-E,scored,66,good,24
F,scored,80,excellent,30
G,scored,80,excellent,30
G-D,refused,,,
`;
const LOG = `sample_id,duplicate_of,replicate_of
A,,
A-D,A,
B,,
B-D,B,
C,,
C-D,C,
C-E,C-D,
G,,F
G-D,G,
Q-D,Q,
`;
const FILES = { "s.csv": SCORES, "log.csv": LOG };

describe("qc duplicates", () => {
  it("pools the groups by analysis of variance", () => {
    const { rows, stderr } = runQc(FILES, ["duplicates", "s.csv", "--log", "log.csv"]);
    expect(rows.map((row) => row.measure)).toEqual(["index", "ept_richness"]);
    expect(rows[0]).toMatchObject({
      groups: "3",
      samples: "7",
      degrees_of_freedom: "4",
      mean: "51.2857142857",
      within_site_sd: "4.63680924775",
      groups_over_limit: "1",
      interval90_normal_1: "7.62755121255",
    });
    // t 0.95 with 4 degrees of freedom is 2.132 in printed tables.
    expect(Number(rows[0]?.interval90_1)).toBeCloseTo(2.1318 * 4.63681, 3);
    expect(Number(rows[0]?.between_1) / Number(rows[0]?.interval90_1)).toBeCloseTo(Math.SQRT2, 10);
    expect(stderr).toContain(
      "4 groups of duplicates; within-site SD of the index 4.64; rating differs in 1 of 5 pairs (20 percent); 1 over the RPD limit of 15 percent",
    );
  });

  it("judges each pair and ends with 1 when one is over the limit; 15 itself passes", () => {
    const { status, rows, stderr } = runQc(FILES, [
      "duplicates",
      "s.csv",
      "--samples",
      "log.csv",
      "--table",
      "pairs",
    ]);
    expect(status).toBe(1);
    const index = rows.filter((row) => row.measure === "index");
    expect(index.map((row) => [row.samples, row.rpd_percent, row.outcome, row.why_not])).toEqual([
      ["A;A-D", "15", "pass", ""],
      ["B;B-D", "22.2222222222", "fail", ""],
      ["C;C-D;C-E", "9.52380952381", "pass", ""],
      ["G", "", "not-computable", "too-few-values"],
    ]);
    const ept = rows.filter((row) => row.measure === "ept_richness");
    expect(ept.map((row) => [row.outcome, row.why_not])).toEqual([
      ["not-computable", "all-zero"],
      ["", ""],
      ["", ""],
      ["not-computable", "too-few-values"],
    ]);
    expect(stderr).toContain(
      "s.csv:5:1 warning limit-missed RPD of index of B, B-D is 22.22 percent, 7.22 over the limit of 15",
    );
    expect(stderr).not.toContain("Q-D");
  });

  it("takes other limits, for every metric too, or none", () => {
    const words = ["duplicates", "s.csv", "--log", "log.csv"];
    expect(runQc(FILES, [...words, "--rpd-limit", "22.3"]).status).toBe(0);
    expect(runQc(FILES, [...words, "--rpd-limit", "none"]).status).toBe(0);
    const every = runQc(FILES, [...words, "--rpd-limit", "18", "--every-metric"]);
    // EPT richness of C: 4 of a mean of 22 is 18.18 percent.
    expect(every.stderr).toContain(
      "RPD of ept_richness of C, C-D, C-E is 18.18 percent, 0.18 over the limit of 18",
    );
  });

  it("takes replicates instead, or both together", () => {
    const words = ["duplicates", "s.csv", "--log", "log.csv", "--table", "ratings", "--by"];
    const replicates = runQc(FILES, [...words, "replicate_of"]).rows;
    expect(replicates.map((row) => [row.samples, row.ratings, row.outcome])).toEqual([
      ["F;G", "excellent;excellent", "same"],
    ]);
    const both = runQc(FILES, [...words, "both"]).rows;
    expect(both.map((row) => row.samples)).toEqual(["A;A-D", "B;B-D", "C;C-D;C-E", "F;G;G-D"]);
  });

  it("gives what one, two and three samples can tell", () => {
    const { rows } = runQc(FILES, ["duplicates", "s.csv", "--log", "log.csv", "--table", "intervals"]);
    const index = rows.filter((row) => row.measure === "index");
    expect(index.map((row) => row.samples)).toEqual(["1", "2", "3"]);
    const [one, two] = index.map((row) => Number(row.interval90));
    expect((one ?? 0) / (two ?? 1)).toBeCloseTo(Math.SQRT2, 10);
    expect(Number(index[0]?.from_limit_power80_normal)).toBeCloseTo((1.645 + 0.842) * 4.63681, 4);
  });

  it("warns of a pair that is not among the scores and of circles", () => {
    const files = {
      "s.csv": "sample_id,index\nA,1\nB,2\n",
      "log.csv": "sample_id,duplicate_of\nA,\nA-D,A\nB,X\nC,D\nD,C\nE,E\n",
    };
    const { stderr, status } = runQc(files, ["duplicates", "s.csv", "--log", "log.csv"]);
    expect(status).toBe(0);
    expect(stderr).toContain(
      "log.csv:3:2 warning no-duplicate sample A-D, which repeats A, is not among the scores",
    );
    expect(stderr).toContain(
      "log.csv:4:2 warning no-duplicate sample X, which B repeats, is not among the scores",
    );
    expect(stderr).toContain("log.csv:5:2 warning circular-duplicates samples C and D repeat each other");
    expect(stderr).toContain(
      "log.csv:7:2 warning circular-duplicates sample E is called a duplicate of itself",
    );
  });

  it("reads what score writes, wide and long, to the same figures", () => {
    const folder = demoFolder();
    const score = [
      "score",
      "bench-sheet.csv",
      "--samples",
      "sample-log.csv",
      "--names",
      "names.csv",
      "--reference",
      "vennaloo-demo",
    ];
    const run = (...words: string[]) => {
      const result = runJartally(words, { cwd: folder });
      expect([0, 1], result.stderr).toContain(result.status);
      return result.stdout;
    };
    writeFileSync(join(folder, "wide.csv"), run(...score));
    writeFileSync(join(folder, "long.csv"), run(...score, "--layout", "long"));
    const words = ["--log", "sample-log.csv", "--table", "pairs"];
    const wide = csvRows(run("qc", "duplicates", "wide.csv", ...words));
    const long = csvRows(run("qc", "duplicates", "long.csv", ...words));
    expect(wide).toEqual(long);
    expect(wide.map((row) => [row.measure, row.samples])).toEqual(
      ["index", "taxa_richness", "ept_richness", "percent_dominant_taxon", "tolerance_index"].map(
        (measure) => [measure, "V3-2023-09;V3-2023-09-D"],
      ),
    );
  });

  it("needs the log, and a table of scores", () => {
    expect(runQc(FILES, ["duplicates", "s.csv"]).stderr).toContain("name the sample log with --log");
    const none = runQc({ "s.csv": "sample_id,note\nA,x\n", "log.csv": LOG }, [
      "duplicates",
      "s.csv",
      "--log",
      "log.csv",
    ]);
    expect([none.status, none.stdout]).toEqual([3, ""]);
    expect(none.stderr).toContain("there is no column of an index or of a metric");
  });
});
