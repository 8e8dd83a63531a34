import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runInside } from "../helpers/in-process.ts";
import type { SmallSet } from "../helpers/small-lab.ts";
import { smallLab } from "../helpers/small-lab.ts";

interface Files {
  readonly sheet: string;
  readonly log?: string;
  readonly set?: SmallSet;
}

/** The page of sample A as a terminal of 110 columns shows it, runs of blanks made one. */
async function pageOf({ sheet, log = "", set = {} }: Files, ...words: readonly string[]): Promise<string> {
  const lab = smallLab(set);
  writeFileSync(join(lab, "sheet.csv"), sheet);
  writeFileSync(join(lab, "log.csv"), log);
  const samples = log === "" ? [] : ["--samples", "log.csv"];
  const command = [
    "explain",
    "sheet.csv",
    ...samples,
    "--reference",
    "./small-set",
    "--sample",
    "A",
    ...words,
  ];
  const { stdout } = await runInside(command, lab, undefined, 110);
  return stdout.replaceAll(/ +/g, " ");
}
const HEAD = "sample_id,taxon,count\n";

describe("the page of a sample", () => {
  it("says in which jar a row was, and what the search for large and rare animals found", async () => {
    const sheet =
      "sample_id,taxon,count,container,part\nA,Baetis,3,1 of 2,\nA,Leuctra,2,2 of 2,\nA,Pteronarcys,1,,large-rare\n";
    const page = await pageOf({ sheet });
    expect(page).toContain("jar 1 of 2");
    expect(page).toContain("large/rare search");
  });

  it("shows the estimate for the whole sample as a division, or that the share sorted is not known", async () => {
    const sheet = `${HEAD}A,Baetis,30\n`;
    const known = await pageOf({ sheet, log: "sample_id,fraction_sorted\nA,0.25\n" });
    expect(known).toContain("30 / 0.25 = 120 animals in the whole sample");
    const unknown = await pageOf({ sheet });
    expect(unknown).toMatch(/fraction sorted not known/);
    expect(unknown).toMatch(/estimated total not known/);
    expect(unknown).toMatch(/target no fixed count/);
  });

  it("shows where the animals of ambiguous parents went, or that they were left out", async () => {
    const sheet = `${HEAD}A,Heptageniidae,10\nA,Epeorus,30\nA,Rhithrogena,10\n`;
    const level = { rank: "as-named" };
    const shared = await pageOf({ sheet, set: { definition: { level, parents: "distribute" } } });
    expect(shared).toContain("after parents");
    expect(shared).toContain("7.5 animals of Heptageniidae to Epeorus");
    const removed = await pageOf({ sheet, set: { definition: { level, parents: "remove" } } });
    expect(removed).toContain("10 animals of Heptageniidae left out");
  });

  it("says the rating behind the index, or none where no class holds it, and the status without an index", async () => {
    const sheet = `${HEAD}A,Baetis,10\nA,Leuctra,10\n`;
    expect(await pageOf({ sheet })).toMatch(/^A: 9\.5 points, fair\n/);
    const classes = {
      ratings: { on: "unrounded", classes: [{ rating: "good", lower: 50, lower_included: true }] },
    };
    expect(await pageOf({ sheet, set: { definition: classes } })).toMatch(/^A: 9\.5 points\n/);
    expect(await pageOf({ sheet: `${HEAD}A,Zzyzx,1\n` })).toMatch(/^A: refused\n/);
  });

  it("marks the threshold that was used, and says why a metric has no value", async () => {
    const thresholds = [
      ["taxa_richness", "0", "2", "0", "2"],
      ["taxa_richness", "3", "10", "5", "5"],
      ["tolerance_index", "0", "10", "10", "0"],
    ] as const;
    const page = await pageOf({ sheet: `${HEAD}A,Simulium,10\n`, set: { thresholds } });
    expect(page).toContain("no animal has a tolerance value");
    const metric = await pageOf(
      { sheet: `${HEAD}A,Simulium,10\n`, set: { thresholds } },
      "--metric",
      "taxa_richness",
    );
    expect(metric.match(/<- used/g)).toHaveLength(1);
    expect(metric).toContain(
      "from 0 up to 2: 0 to 2 (thresholds.csv:2) <- used, 0 + 2 x (1 - 0) / (2 - 0)\n",
    );
    expect(metric).toContain("from 3 up to 10: 5 (thresholds.csv:3)\n");
  });
});

describe("the page of a metric", () => {
  it("shows each taxon's part, those without a value too, and the sum put into the formula", async () => {
    const page = await pageOf(
      { sheet: `${HEAD}A,Baetis,10\nA,Leuctra,6\nA,Simulium,4\n` },
      "--metric",
      "tolerance_index",
    );
    expect(page).toMatch(/^tolerance_index of A: 3\.125 \(tolerance value\)\n/);
    expect(page).toMatch(/Baetis 10 50 1 5 50 yes/);
    // No value: no product, and no part in the mean.
    expect(page).toMatch(/Simulium 4 20 1 - - no no tolerance value in made up/);
    // The list names no source of its rows.
    expect(page).toContain("values from made up (set)\n");
    expect(page).toContain("take part: 2 of 3 records, 16 animals, 2 taxa");
    expect(page).toContain("all: 20 animals, 3 taxa");
    expect(page).toContain("50 / 16 = 3.125");
  });

  it("says that a value is missing", async () => {
    const page = await pageOf({ sheet: `${HEAD}A,Simulium,4\n` }, "--metric", "tolerance_index");
    expect(page).toMatch(/^tolerance_index of A: missing: no animal has a tolerance value/);
  });
});

describe("rescore --why", () => {
  it("says the parts of the change of one sample, and why another has none", async () => {
    const lab = smallLab();
    const run = (...words: readonly string[]) => runInside(words, lab);
    await run("score", "sheet.csv", "--reference", "./small-set", "--run", "run", "-q", "-o", "s.csv");
    const shared = await run("rescore", "run", "--reference", "./small-set", "--why", "S-1");
    expect(shared.stderr).toContain("S-1: change 0; counts 0, names 0, attributes 0, metrics 0, rules 0\n");
    const refused = await run("rescore", "run", "--reference", "./small-set", "--why", "S-2");
    expect(refused.stderr).toContain(
      "S-2: change none; not attributable: refused before (unknown-taxon); refused after (unknown-taxon)\n",
    );
    const quiet = await run("rescore", "run", "--reference", "./small-set", "--why", "S-2", "--quiet");
    expect(quiet.stderr).not.toContain("change none");
    const missing = await run("rescore", "run", "--reference", "./small-set", "--why", "Q");
    expect([missing.status, missing.stdout]).toEqual([2, ""]);
    expect(missing.stderr).toContain('no run has a sample "Q"');
  });
});

describe("scores with intervals on a terminal", () => {
  it("have empty cells for a sample without an index, and say no rating where the next has none", async () => {
    const lab = smallLab({
      definition: {
        ratings: { on: "unrounded", classes: [{ rating: "good", lower: 9.4, lower_included: true }] },
      },
    });
    writeFileSync(join(lab, "sheet.csv"), `${HEAD}A,Baetis,10\nA,Leuctra,10\nB,Simulium,4\n`);
    const words = [
      "score",
      "sheet.csv",
      "--reference",
      "./small-set",
      "--resamples",
      "400",
      "-q",
      "--color",
      "never",
    ];
    const { stdout } = await runInside(words, lab, undefined, 140);
    const [a, b] = stdout.split("\n").filter((line) => /^[AB] /.test(line));
    expect(a).toMatch(/ 9\.5\s+good\s+\S+\sto\s\S+\s+\d+\s%\s+no\srating\s\(\d+\s%\)/);
    expect(b).not.toMatch(/\sto\s|%/);
  });
});
