import { demoFolder, runJartally } from "../helpers/run-jartally.ts";

/** A page that the built program makes of the demo data. */
export interface WrittenPage {
  readonly name: string;
  /** Place below the folder of the demo. */
  readonly path: string;
  /** What a reader must find. */
  readonly words: readonly string[];
  /** Pictures at least. */
  readonly pictures: number;
}

export const PAGES: readonly WrittenPage[] = [
  {
    name: "batch",
    path: "pages/index.html",
    words: [
      "Results of the runs",
      "Vennaloo demonstration index",
      "no legal determination",
      "U4-2024-09",
      "6 excellent",
      "Sorting efficiency of",
    ],
    pictures: 3,
  },
  {
    name: "site with a duplicate and a history",
    path: "pages/sites/site-V3.html",
    words: [
      "Site V3",
      "Poor: index 29",
      "Who lived there",
      "field duplicate of",
      "How sure: the 90 percent interval",
      "no legal determination",
    ],
    pictures: 20,
  },
  {
    name: "site with protected animals",
    path: "pages/sites/site-L1.html",
    words: ["Site L1", "rounded to 0.1 degree"],
    pictures: 10,
  },
  {
    name: "quality figures",
    path: "sorting/index.html",
    words: ["Control charts", "limit"],
    pictures: 1,
  },
];

/** Runs the program as a user would; gives the folder that the pages lie in. */
export function writePages(): string {
  const cwd = demoFolder();
  const run = (line: string, ...allowed: number[]) => {
    const { status, stderr } = runJartally(line.split(" "), { cwd });
    if (!allowed.includes(status ?? -1)) throw new Error(`${line}: exit code ${status}\n${stderr}`);
  };
  run(
    "score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --resamples 200 --run run -q -o scores.csv",
    0,
  );
  // The demo misses a limit.
  run("qc sorting qc-sorting-check.csv --samples sample-log.csv --report sorting -q -o sorting.csv", 1);
  run("report run --quality sorting -q -o pages", 0);
  return cwd;
}
