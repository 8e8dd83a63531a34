import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** One sample of the scores, by column of the wide layout. */
export type ResultRow = Record<string, string | number | null>;

/** The demo batch scored by the built program with the demo set, by sample id in the order of the output. */
export function scoreDemo(...options: readonly string[]): ReadonlyMap<string, ResultRow> {
  const words = [
    "bin/jartally.js",
    "score",
    "demo-data/bench-sheet.csv",
    "--samples",
    "demo-data/sample-log.csv",
    "--names",
    "demo-data/names.csv",
    "--reference",
    "vennaloo-demo",
    "--format",
    "json",
    ...options,
  ];
  const run = spawnSync(process.execPath, words, { cwd: ROOT, encoding: "utf8" });
  expect(run.status, run.stderr).toBe(0);
  const envelope = JSON.parse(run.stdout) as { rows: ResultRow[] };
  return new Map(envelope.rows.map((row) => [String(row.sample_id), row]));
}
