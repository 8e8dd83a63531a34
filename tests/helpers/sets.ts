import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { packageRoot } from "../../src/files/package-root.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import type { Finding } from "../../src/findings/finding.ts";
import type { Exact } from "../../src/model/exact.ts";
import { toNumber } from "../../src/model/exact.ts";
import { exactValue } from "../../src/model/metric-value.ts";
import type { SetDefinitionInput } from "../../src/model/reference-set.ts";
import type { SampleFacts } from "../../src/model/sample-facts.ts";
import type { MeasuredMetric, ReferenceCase } from "../../src/pipeline/score-values.ts";
import { scoreValues } from "../../src/pipeline/score-values.ts";
import { findSetFolder } from "../../src/reference/find-set.ts";
import { readReferenceSet } from "../../src/reference/read-set.ts";
import { THRESHOLD_COLUMNS } from "../../src/reference/read-thresholds.ts";
import type { ReferenceSet } from "../../src/reference/set.ts";
import type { SharedTables } from "../../src/reference/shared-tables.ts";
import { loadSharedTables } from "../../src/reference/shared-tables.ts";
import { freshFolder } from "./run-jartally.ts";
import { decimal } from "./segments.ts";

export const TABLES = join(packageRoot(), "reference-tables");
export const SHIPPED: SharedTables = loadSharedTables(TABLES);

/** A set of the package, which must read without a finding. */
export async function shippedSet(id: string): Promise<ReferenceSet> {
  const findings = new FindingCollector();
  const folder = await findSetFolder(id, { packageTables: TABLES, cwd: "/" });
  const set = await readReferenceSet(folder, SHIPPED, findings);
  if (set === undefined || findings.all.length > 0)
    throw new Error(JSON.stringify(findings.all, undefined, 1));
  return set;
}

/** Values of a sample log's row. */
export function facts(texts: Readonly<Record<string, string>>): SampleFacts {
  return {
    sampleId: "S",
    texts: new Map(Object.entries(texts)),
    file: "log.csv",
    line: 2,
    columns: new Map(Object.keys(texts).map((name, at) => [name, at + 2])),
  };
}

export interface ScoreOptions {
  readonly stratum?: string;
  readonly log?: Readonly<Record<string, string>>;
  /** Metric values of the reference sample. */
  readonly reference?: Readonly<Record<string, string>>;
}

/** What scoring metric values gave, as plain numbers. */
export interface PlainScore {
  readonly index: number | undefined;
  readonly rating: string;
  readonly scores: Readonly<Record<string, number | undefined>>;
  readonly findings: readonly Finding[];
}

/** Scores metric values given as decimals. */
export function scorePlain(
  set: ReferenceSet,
  values: Readonly<Record<string, string>>,
  options: ScoreOptions = {},
): PlainScore {
  const findings = new FindingCollector();
  const reference: ReferenceCase | undefined =
    options.reference === undefined ? undefined : { facts: undefined, measured: measured(options.reference) };
  const scored = scoreValues(
    set,
    measured(values),
    {
      sampleId: "S",
      facts: options.log === undefined ? undefined : facts(options.log),
      stratum: options.stratum ?? set.definition.strata[0]?.id ?? "",
      place: { file: "sheet.csv", line: 2, column: 1 },
      reference,
    },
    findings,
  );
  return {
    index: plain(scored.index),
    rating: scored.rating,
    scores: Object.fromEntries(scored.metrics.map(({ id, score }) => [id, plain(score)])),
    findings: findings.all,
  };
}

function measured(values: Readonly<Record<string, string>>): MeasuredMetric[] {
  return Object.entries(values).map(([id, text]) => ({ id, raw: exactValue(decimal(text)) }));
}

function plain(value: Exact | undefined): number | undefined {
  return value === undefined ? undefined : toNumber(value);
}

/** A small set for tests of rules; made up. */
export const BARE_SET: SetDefinitionInput = {
  id: "bare",
  title: "Bare set for tests (invented)",
  version: "1.0.0",
  summary: "Made up for tests.",
  sources: ["rbp1999"],
  verification: "invented",
  verification_note: "Made up.",
  calibrated_for: "Nothing.",
  region: "Nowhere",
  strata: [{ id: "all", title: "All" }],
  level: { rank: "genus" },
  count_rule: { target: null, least: null },
  metrics: [{ id: "taxa_richness" }],
  index: { method: "sum" },
  ratings: { on: "unrounded", classes: [{ rating: "any" }] },
};

/** The files of a set; `thresholds` and `taxa` are rows without their header. */
export interface SetFiles {
  readonly set?: Partial<SetDefinitionInput> | string;
  readonly thresholds?: readonly string[];
  /** The whole table, header included, in place of `thresholds`. */
  readonly thresholdsText?: string;
  readonly taxa?: readonly string[];
  readonly sources?: string;
}

/** Writes a set folder named `bare` and gives its path. */
export function writeSet(files: SetFiles): string {
  const folder = join(freshFolder(), "bare");
  mkdirSync(folder);
  const json =
    typeof files.set === "string" ? files.set : JSON.stringify({ ...BARE_SET, ...files.set }, undefined, 2);
  writeFileSync(join(folder, "set.json"), json);
  const table = `${[THRESHOLD_COLUMNS.join(","), ...(files.thresholds ?? [])].join("\n")}\n`;
  writeFileSync(join(folder, "thresholds.csv"), files.thresholdsText ?? table);
  if (files.taxa !== undefined) {
    const rows = ["taxon,attribute,value,source_id,verified,note", ...files.taxa];
    writeFileSync(join(folder, "taxa.csv"), `${rows.join("\n")}\n`);
  }
  if (files.sources !== undefined) writeFileSync(join(folder, "sources.csv"), files.sources);
  return folder;
}

/** Writes a set and reads it; findings are given with the set, which is undefined when it cannot be used. */
export async function readWritten(
  files: SetFiles,
): Promise<{ readonly set: ReferenceSet | undefined; readonly findings: readonly Finding[] }> {
  const findings = new FindingCollector();
  const set = await readReferenceSet({ path: writeSet(files), shownAs: "bare" }, SHIPPED, findings);
  return { set, findings: findings.all };
}

/** A written set that must be usable. */
export async function usableSet(files: SetFiles): Promise<ReferenceSet> {
  const { set, findings } = await readWritten(files);
  if (set === undefined) throw new Error(JSON.stringify(findings, undefined, 1));
  return set;
}

/** A segment as a row of thresholds.csv: `[14,28]` holds both limits, `(28,)` is open above. */
export function row(
  metric: string,
  interval: string,
  from: number,
  to = from,
  more: {
    readonly stratum?: string;
    readonly basis?: string;
    readonly covariate?: string;
    readonly slopes?: string;
  } = {},
): string {
  const match = /^([[(])([^,]*),([^\])]*)([\])])$/.exec(interval.replaceAll(" ", ""));
  if (match === null) throw new RangeError(`not an interval: ${interval}`);
  const [, open, low = "", high = "", close] = match;
  const lower = low === "" ? "," : `${low},${open === "[" ? "yes" : "no"}`;
  const upper = high === "" ? "," : `${high},${close === "]" ? "yes" : "no"}`;
  const { stratum = "", basis = "value", covariate = "", slopes = "," } = more;
  return `${stratum},${metric},${basis},${lower},${upper},${from},${to},${covariate},${slopes},`;
}
