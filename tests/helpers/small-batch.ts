import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inputFromBytes } from "../../src/files/input.ts";
import type { Finding } from "../../src/findings/finding.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import type { SetDefinitionInput } from "../../src/model/reference-set.ts";
import { loadBatch } from "../../src/pipeline/load.ts";
import type { SampleScore } from "../../src/pipeline/result.ts";
import type { Batch } from "../../src/pipeline/score-batch.ts";
import { freshFolder } from "./run-jartally.ts";

/** A set that draws nothing, keeps names as they are and scores nothing but the number of taxa; made up. */
export const PLAIN_SET: SetDefinitionInput = {
  id: "plain",
  title: "Plain set for tests (invented)",
  version: "1.0.0",
  summary: "Made up for tests.",
  sources: ["rbp1999"],
  verification: "invented",
  verification_note: "Made up.",
  calibrated_for: "Nothing.",
  region: "Nowhere",
  strata: [{ id: "all", title: "All" }],
  level: { rank: "as-named" },
  count_rule: { target: null, least: null },
  large_rare: "richness",
  attributes: { tolerance: { scheme: "rbp1999-northwest" } },
  without_value_limit_percent: 100,
  metrics: [{ id: "taxa_richness" }],
  index: { method: "metric", metric: "taxa_richness" },
  ratings: { on: "unrounded", classes: [{ rating: "any", lower: 0, lower_included: true }] },
};

const NO_THRESHOLDS =
  "stratum,metric,basis,lower,lower_included,upper,upper_included,score_at_lower,score_at_upper,covariate,lower_slope,upper_slope,note\n";

/** The files of a small batch as text. */
export interface SmallFiles {
  readonly sheet: string;
  readonly log?: string;
  readonly names?: string;
  /** What differs from `PLAIN_SET`. */
  readonly set?: Partial<SetDefinitionInput>;
  /** Rows of thresholds.csv without the header. */
  readonly thresholds?: string;
}

/** Writes a set folder and gives its path. */
export function setFolder(set: Partial<SetDefinitionInput> = {}, thresholds = ""): string {
  const folder = join(freshFolder(), "plain");
  mkdirSync(folder);
  writeFileSync(join(folder, "set.json"), JSON.stringify({ ...PLAIN_SET, ...set }));
  writeFileSync(join(folder, "thresholds.csv"), NO_THRESHOLDS + thresholds);
  return folder;
}

/** Reads files as the program would: sheet.csv, log.csv, names.csv and a set folder of their own. */
export async function loadSmall(files: SmallFiles) {
  const { log, names } = files;
  return loadBatch(
    {
      sheets: [inputFromBytes("sheet.csv", files.sheet)],
      sampleLog: log === undefined ? undefined : inputFromBytes("log.csv", log),
      names: names === undefined ? undefined : inputFromBytes("names.csv", names),
    },
    setFolder(files.set, files.thresholds),
    "/",
  );
}

/** The batch of files that must be without errors. */
export async function smallBatch(files: SmallFiles): Promise<Batch> {
  const { batch, findings } = await loadSmall(files);
  if (batch === undefined) throw new Error(findings.map((one) => one.message).join("\n"));
  return batch;
}

/** Values of a score by the metrics that a test asks about; undefined where one is missing. */
export function valuesOf<Metric extends string>(score: SampleScore): Partial<Record<Metric, number>> {
  const values = score.metrics.map(({ id, value }) => [id, valueAsNumber(value)]);
  return Object.fromEntries(values) as Partial<Record<Metric, number>>;
}

/** Findings of a code, as "line severity message". */
export function saying(findings: readonly Finding[], code: Finding["code"]): string[] {
  return findings
    .filter((one) => one.code === code)
    .map((one) => `${one.line} ${one.severity} ${one.message}`);
}
