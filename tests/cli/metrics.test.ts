import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demoFolder, runJartally } from "../helpers/run-jartally.ts";

const cwd = demoFolder();
const BATCH = [
  "bench-sheet.csv",
  "--samples",
  "sample-log.csv",
  "--names",
  "names.csv",
  "--reference",
  "vennaloo-demo",
];

function metrics(...words: readonly string[]) {
  return runJartally(["metrics", ...words], { cwd });
}

describe("metrics --parents", () => {
  it("shows every method side by side, worked by hand for V4-2023-05", () => {
    const run = metrics(
      ...BATCH,
      "--only",
      "taxa_richness,individuals,tolerance_index",
      "--parents",
      "all",
      "-q",
    );
    expect(run.status).toBe(0);
    const [header, ...lines] = run.stdout.split("\n");
    expect(header).toBe(
      "sample_id,site_id,collected_on,stratum,parents,individuals_counted,individuals_scored,status,flags,taxa_richness,individuals,tolerance_index",
    );
    // Perlidae 4 (value 1) stands beside Calineuria 2 (3) and Hesperoperla 3 (1): 187 animals, sum 852.
    expect(lines.filter((line) => line.startsWith("V4-2023-05,"))).toEqual([
      "V4-2023-05,V4,2023-05-17,valley,distinct,187,187,scored,,25,187,4.55614973262", // 852 / 187
      "V4-2023-05,V4,2023-05-17,valley,remove,187,187,scored,,25,183,4.63387978142", // 848 / 183
      "V4-2023-05,V4,2023-05-17,valley,merge,187,187,scored,,24,187,4.53475935829", // 852 - 2 x 3 + 2 x 1 = 848 / 187
      "V4-2023-05,V4,2023-05-17,valley,larger,187,187,scored,,25,183,4.63387978142", // 5 finer above 4: removed
      "V4-2023-05,V4,2023-05-17,valley,distribute,187,187,scored,,25,187,4.573262032", // 1.6 to Calineuria: 852 + 1.6 x 2 = 855.2 / 187
    ]);
    expect(lines.filter((line) => line !== "")).toHaveLength(37 * 5);
  });

  it("takes one method in place of the set's", () => {
    const run = metrics(...BATCH, "--only", "taxa_richness", "--parents", "merge", "-q");
    expect(run.stdout.split("\n").find((line) => line.startsWith("V4-2023-05,"))).toBe(
      "V4-2023-05,V4,2023-05-17,valley,merge,187,187,scored,,24",
    );
  });

  it("names the methods when given another word", () => {
    const run = metrics(...BATCH, "--parents", "drop");
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/"drop" is not one of distinct, remove, merge, larger, distribute, all/);
  });
});

describe("metrics --replicates", () => {
  writeFileSync(
    join(cwd, "replicates.csv"),
    "sample_id,taxon,count\nR1,Epeorus,30\nR1,Simulium,10\nR2,Rhithrogena,60\n",
  );
  writeFileSync(join(cwd, "replicate-log.csv"), "sample_id,replicate_of\nR1,\nR2,R1\n");
  const small = [
    "replicates.csv",
    "--reference",
    "vennaloo-demo",
    "--only",
    "taxa_richness,percent_diptera",
    "-q",
  ];

  it("names a mean and a pooled value for what they are", () => {
    const mean = metrics(...small, "--samples", "replicate-log.csv", "--replicates", "mean");
    expect(mean.stdout).toBe(
      "sample_id,site_id,collected_on,stratum,replicate_value,replicates,individuals_counted,individuals_scored,status,flags,taxa_richness,percent_diptera\n" +
        "R1,,,,mean,2,50,50,flagged,under-target,1.5,12.5\n", // (2 + 1) / 2; (25 + 0) / 2
    );
    const pooled = metrics(...small, "--samples", "replicate-log.csv", "--replicates", "pooled");
    expect(pooled.stdout.split("\n")[1]).toBe("R1,,,,pooled,2,100,100,flagged,under-target,3,10");
  });

  it("needs the log that says which they are", () => {
    const run = metrics(...small, "--replicates", "mean");
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/needs the sample log/);
  });
});

describe("metrics --only", () => {
  it("names the closest metric for one that is not known", () => {
    const run = metrics(...BATCH, "--only", "taxa_richnes");
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/no metric is called "taxa_richnes" \(close: taxa_richness/);
  });
});
