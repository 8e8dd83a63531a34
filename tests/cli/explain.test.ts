import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runInside } from "../helpers/in-process.ts";
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

function explain(...words: readonly string[]) {
  return runJartally(["explain", ...BATCH, ...words], { cwd });
}

interface Row {
  readonly step: string;
  readonly item: string;
  readonly taxon: string;
  readonly source: string;
  readonly count: number | null;
  readonly left: number | null;
  readonly value: string;
  readonly score: number | null;
  readonly how: string;
}

function rowsOf(...words: readonly string[]): Row[] {
  const run = explain(...words, "--format", "json", "-q");
  expect(run.status, run.stderr).toBe(0);
  const { rows } = JSON.parse(run.stdout) as { rows: Row[] };
  return rows;
}

/*
 * Two samples worked out with pencil and paper in tests/demo-data/by-hand.test.ts, as pages: every number of the
 * pencilled work has to stand on the page.
 */
describe("the page of V4-2023-05", () => {
  const page = explain("--sample", "V4-2023-05", "--format", "table").stdout;

  it("starts with the result", () => {
    expect(page).toMatch(/^V4-2023-05: 72\.6 points, good\n {2}site +V4\n/);
  });

  it("shows rows with their lines, and the 17 animals that do not count", () => {
    expect(page).toContain("Rows: 37, 204 animals");
    expect(page).toMatch(
      /^ {2}bench-sheet\.csv:281 +Baetis +nymph +38 +Baetis +through the lab's own list$/m,
    );
    expect(page).toMatch(/bench-sheet\.csv:312 left out: 2 Psephenus \(adult lives on land/);
    expect(page).toContain("bench-sheet.csv:313 left out: 9 Glossosoma (empty case: not an animal)");
    expect(page).toContain("204 - 17 = 187 animals that count");
  });

  it("shows why a taxon adds nothing, and whose value another one takes", () => {
    expect(page).toMatch(
      /^ {2}Perlidae +4 +2\.14 +0 +1 +finer records stand for it: Calineuria, Hesperoperla/m,
    );
    expect(page).toMatch(/^ {2}Hesperoperla +3 +1\.6 +1 +1 +Perlidae +distinct$/m);
    expect(page).toMatch(/Chironomidae is made of Cricotopus, Eukiefferiella, Micropsectra/);
  });

  it("shows metrics, scores and the rows of the thresholds", () => {
    expect(page).toMatch(
      /taxa_richness +25 +6\.53846153846 +25 x 1 = 25 +from 8 up to 34: 0 to 10 \(thresholds\.csv:6\), 0 \+ 10 x \(25 - 8\) \/ \(34 - 8\)/,
    );
    expect(page).toMatch(/tolerance_index +4\.55614973262 +6\.47950089127 +852 \/ 187 = 4\.55614973262/);
  });

  it("shows the index and the nearest limit", () => {
    expect(page).toContain("(6.53846153846 + 7.22222222222 + 8.81758764112 + 6.47950089127) x 100 / 40 =\n");
    expect(page).toMatch(/^ {2}class +good: from 60 to below 80$/m);
    expect(page).toMatch(/^ {2}nearest limit +80, the limit to excellent: 7\.4 away$/m);
  });
});

describe("the page of L3-2023-05, scored in steps", () => {
  const page = explain("--sample", "L3-2023-05", "--format", "table").stdout;

  it("holds what was pencilled", () => {
    expect(page).toMatch(/^L3-2023-05: 37\.5 points, poor\n/);
    expect(page).toMatch(/^ {2}Chironomidae +35 +23\.18 +1 +6 +distinct$/m);
    expect(page).toMatch(/^ {2}Oligochaeta +28 +18\.54 +1 +5 +distinct$/m);
    expect(page).toMatch(
      /percent_dominant_taxon +23\.178807947 +10 +100 x 35 \/ 151 = 23\.178807947 +up to 30: 10 \(thresholds\.csv:\d+\)$/m,
    );
    expect(page).toMatch(
      /tolerance_index +5\.78145695364 +5 +873 \/ 151 = 5\.78145695364 +above 5\.4 up to 5\.8: 5 \(thresholds\.csv:\d+\)$/m,
    );
    expect(page).toContain("(0 + 0 + 10 + 5) x 100 / 40 = 37.5");
  });
});

describe("explain --metric", () => {
  it("shows every taxon's part so that the number can be redone", () => {
    const page = explain("--sample", "V4-2023-05", "--metric", "tolerance_index", "--format", "table").stdout;
    expect(page).toMatch(/^tolerance_index of V4-2023-05: 4\.55614973262 /);
    expect(page).toMatch(/^ {2}values from +rbp1999-northwest, rbp1999 \(seen\)$/m);
    expect(page).toMatch(/^ {2}Baetis +38 +20\.32 +1 +5 +190 +yes/m);
    expect(page).toContain("take part: 26 of 26 records, 187 animals, 25 taxa");
    expect(page).toMatch(/^ {2}worked out +852 \/ 187 = 4\.55614973262$/m);
    expect(page).toMatch(/from 3\.5 up to 6\.5: 10 to 0 \(thresholds\.csv:9\) <- used, 10 - 10 x/);
    const rows = rowsOf("--sample", "V4-2023-05", "--metric", "tolerance_index").filter(
      ({ step }) => step === "part",
    );
    const product = rows.reduce((sum, row) => sum + (row.left ?? 0) * Number(row.value), 0);
    expect(product).toBe(852);
  });

  it("says why a taxon takes no part", () => {
    const rows = rowsOf("--sample", "V4-2023-05", "--metric", "ept_richness").filter(
      ({ step }) => step === "part",
    );
    expect(rows.find((row) => row.taxon === "Perlidae")).toMatchObject({ count: 4, left: 0 });
    expect(rows.find((row) => row.taxon === "Simulium")?.how).toMatch(
      /^takes no part; not within Ephemeroptera/,
    );
    expect(rows.filter((row) => (row.left ?? 0) > 0)).toHaveLength(15);
  });

  it("explains any other metric of the catalogue, without a score", () => {
    const page = explain(
      "--sample",
      "V4-2023-05",
      "--metric",
      "simpson_sum_of_squares",
      "--format",
      "table",
    ).stdout;
    expect(page).toMatch(/worked out +\d+ \/ 187 squared = 0\.\d+/);
    expect(page).not.toContain("score");
  });

  it("names the closest one for a metric that is not known", () => {
    const run = explain("--sample", "V4-2023-05", "--metric", "tolerance_indx");
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/no metric is called "tolerance_indx" \(close: tolerance_index/);
  });
});

describe("explain as rows", () => {
  it("has stable columns and every step", () => {
    const run = explain("--sample", "V2-2024-09", "-q");
    expect(run.stdout.split("\n")[0]).toBe(
      "sample_id,step,item,taxon,source,count,left,value,share,score,how",
    );
    const rows = rowsOf("--sample", "V2-2024-09");
    expect([...new Set(rows.map((row) => row.step))]).toEqual([
      "sample",
      "row",
      "draw",
      "pile",
      "taxon",
      "attribute",
      "metric",
      "threshold",
      "index",
    ]);
    const piles = rows.filter((row) => row.step === "pile");
    const isDrawn = (row: Row) => !row.how.startsWith("large/rare");
    expect(piles.filter(isDrawn).reduce((sum, row) => sum + (row.left ?? 0), 0)).toBe(200);
    expect(piles.find((row) => row.item === "Pacifastacus")).toMatchObject({ count: 1, left: 1 });
    expect(rows.filter((row) => row.step === "threshold" && row.value === "used")).toHaveLength(4);
  });

  it("tells the score that score gives, with the same options", () => {
    const options = ["--target", "100", "--seed", "otter"];
    const rows = rowsOf("--sample", "V2-2024-09", ...options);
    const scored = runJartally(["score", ...BATCH, ...options, "--format", "json", "-q"], { cwd });
    const { rows: scores } = JSON.parse(scored.stdout) as { rows: Record<string, unknown>[] };
    const own = scores.find((row) => row.sample_id === "V2-2024-09");
    for (const row of rows.filter(({ step }) => step === "metric")) {
      expect(Number(row.value)).toBe(own?.[row.item]);
      expect(row.score).toBe(own?.[`${row.item}_score`]);
    }
    expect(Number(rows.find((row) => row.step === "index" && row.item === "index")?.value)).toBe(own?.index);
  });

  it("is the same bytes every time, and goes to a file whole", () => {
    const first = explain("--sample", "V2-2024-09", "-o", "one.csv", "-q");
    expect(first).toMatchObject({ status: 0, stdout: "", stderr: "" });
    expect(readFileSync(join(cwd, "one.csv"), "utf8")).toBe(explain("--sample", "V2-2024-09", "-q").stdout);
    expect(explain("--sample", "V2-2024-09", "-o", "page.txt", "--format", "table", "-q").status).toBe(0);
    expect(readFileSync(join(cwd, "page.txt"), "utf8")).toMatch(/^V2-2024-09: /);
    expect(explain("--sample", "V2-2024-09", "-o", "page.txt", "--format", "table").status).toBe(4);
  });
});

describe("what goes wrong", () => {
  it("is a usage error for a missing or unknown sample, with the closest id", () => {
    expect(explain().status).toBe(2);
    const run = explain("--sample", "V4-2023-06", "-o", "none.csv");
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/the sheets have no sample "V4-2023-06".*V4-2023-05/);
    expect(existsSync(join(cwd, "none.csv"))).toBe(false);
  });

  it("explains a refused sample as far as it went and exits with 3", () => {
    writeFileSync(
      join(cwd, "bad.csv"),
      "sample_id,taxon,count\nA,Epeoruss,3\nA,Simulium,2\nB,Nobody,1\nB,Simulium,4\n",
    );
    const words = [
      "explain",
      "bad.csv",
      "--reference",
      "vennaloo-demo",
      "--stratum",
      "valley",
      "--format",
      "table",
    ];
    const run = runJartally([...words, "--sample", "A"], { cwd });
    expect(run.status).toBe(3);
    expect(run.stdout).toMatch(/^A: refused\n/);
    expect(run.stdout).toContain("bad.csv:2 not known: 3 Epeoruss");
    // The faults of another sample are not the matter here.
    expect(run.stderr).not.toContain("Nobody");
  });
});

describe("explain on a terminal", () => {
  const page = async (columns: number | undefined, ...words: readonly string[]) =>
    (await runInside(["explain", ...BATCH, "-q", "--format", "table", ...words], cwd, undefined, columns))
      .stdout;

  it.each([
    ["the whole road", 80, []],
    ["the whole road of a sample with doubts", 80, ["--sample", "U4-2023-06"]],
    ["a metric", 80, ["--metric", "tolerance_index"]],
    ["the whole road, on a wide terminal", 120, []],
  ])("keeps %s within %d columns", async (_, columns, words) => {
    const sample = words.includes("--sample") ? [] : ["--sample", "U1-2023-06"];
    const lines = (await page(columns, ...sample, ...words)).split("\n");
    expect(lines.length).toBeGreaterThan(40);
    expect(lines.filter((line) => line.length > columns)).toEqual([]);
  });

  it("says the same as in a pipe, whose tables are not wrapped", async () => {
    const words = ["--sample", "U1-2023-06"];
    const piped = await page(undefined, ...words);
    const shown = await page(80, ...words);
    expect(piped).toContain(
      "finer records stand for it: Cinygmula, Epeorus, Rhithrogena; coarser than the set's level\n",
    );
    for (const word of new Set(piped.match(/[A-Za-z][\w-]+/g))) expect(shown).toContain(word);
  });

  it("has no column for whose value was taken where every taxon has its own", async () => {
    expect(await page(undefined, "--sample", "U1-2023-06")).not.toContain("value of");
  });
});
