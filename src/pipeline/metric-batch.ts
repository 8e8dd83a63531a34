import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import { at } from "../model/at.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { chooseRatings } from "../reference/choose-ratings.ts";
import { findSetFolder } from "../reference/find-set.ts";
import { readReferenceSet } from "../reference/read-set.ts";
import type { ReferenceSet } from "../reference/set.ts";
import { loadSharedTables } from "../reference/shared-tables.ts";
import type { ReadFile } from "../sheets/bench-sheet.ts";
import type { MetricTable } from "../sheets/metric-table.ts";
import { readMetricTable } from "../sheets/metric-table.ts";
import { readSampleLog } from "../sheets/sample-log.ts";
import type { SetChoices } from "./load.ts";
import type { BatchFiles } from "./load-rows.ts";
import { packageTables } from "./package-tables.ts";

/** Metric values worked out elsewhere, with their set. */
export interface MetricBatch {
  readonly table: MetricTable;
  readonly log: ReadonlyMap<string, SampleFacts>;
  readonly set: ReferenceSet;
}

/** What reading tables of metric values gave. */
export interface LoadedMetricBatch {
  /** Undefined when the run is refused; `findings` say why. */
  readonly batch: MetricBatch | undefined;
  readonly set: ReferenceSet | undefined;
  readonly findings: readonly Finding[];
  readonly inputs: readonly ReadFile[];
}

/**
 * Reads tables of metric values and joins them with a set. No attribute list is needed: the values are there.
 *
 * @throws FileError, UnknownSetError and UnknownClassesError as `loadBatch` does
 */
export async function loadMetricBatch(
  files: BatchFiles,
  reference: string,
  cwd: string,
  choices: Pick<SetChoices, "classes"> = {},
): Promise<LoadedMetricBatch> {
  const folder = await findSetFolder(reference, { packageTables: packageTables(), cwd });
  const findings = new FindingCollector();
  const read = await readReferenceSet(folder, loadSharedTables(packageTables()), findings);
  const set =
    read === undefined || choices.classes === undefined ? read : chooseRatings(read, choices.classes);
  const options = files.encoding === undefined ? {} : { encoding: files.encoding };
  const table = await readMetricTable(files.sheets, options, findings);
  const log =
    files.sampleLog === undefined ? undefined : await readSampleLog(files.sampleLog, options, findings);
  const inputs = [...table.digests, ...(log === undefined ? [] : [log.digest])];
  if (set === undefined || table.unreadable || log?.unreadable === true) {
    return { batch: undefined, set, findings: findings.all, inputs };
  }
  for (const one of otherMetrics(table, set)) findings.add(one);
  return {
    batch: { table, log: log?.samples ?? new Map(), set },
    set,
    findings: findings.all,
    inputs,
  };
}

/** Metrics of the table that the set does not use, and metrics of the set that no sample has. */
function otherMetrics(table: MetricTable, set: ReferenceSet): Finding[] {
  const ids = set.definition.metrics.map((use) => use.id);
  const place = wholeFile(at(table.digests, 0).file);
  // The table that `score` writes has the scores beside the values.
  const isScore = (name: string) => name.endsWith("_score") && ids.includes(name.slice(0, -"_score".length));
  return table.metrics
    .filter((name) => !ids.includes(name) && !isScore(name))
    .map((name) =>
      finding("unused-metric", place, {
        message: `the set ${set.definition.id} has no metric "${name}"${didYouMean(name, ids)}`,
      }),
    );
}
