import type { FindingSink } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import { compareCodePoints } from "../model/order.ts";
import type { RowTable } from "../model/rows.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import { nameFindings } from "../names/name-findings.ts";
import { coarserThanLevel } from "../taxa/level.ts";
import type { BatchNames } from "./batch-names.ts";
import { placeOfName } from "./sample-piles.ts";
import type { Batch } from "./score-batch.ts";

/** Where a name stands in a batch. */
interface Spread {
  firstRow: number;
  rows: number;
  samples: number;
  lastSample: number;
}

/**
 * Says once for each name what there is to say of it, at its first row: doubts (ambiguous, in part, uncertain),
 * older names, taxa of their own, stages that contradict their column. Names that are not known are said row by
 * row where they refuse their samples. A name concerns the whole batch, so no sample is flagged for it.
 */
export function reportNames(table: RowTable, names: BatchNames, findings: FindingSink): void {
  const unremarkable = (number: number) => nothingToSay(table, names, number);
  const quiet = Uint8Array.from(names.resolutions, (_, number) => (unremarkable(number) ? 1 : 0));
  if (!quiet.includes(0)) return;
  const said = new Set<string>();
  for (const spread of spreadsOf(table, names, quiet)) {
    for (const one of findingsOf(table, names, spread)) {
      // The same name under two stages has the same doubts; they are said once.
      const key = `${one.code} ${table.nameAt(spread.firstRow)} ${one.code === "stage-mismatch" ? one.message : ""}`;
      if (said.has(key)) continue;
      said.add(key);
      findings.add(one);
    }
  }
}

/** Where names stand that are not quiet, those met first in the files first. */
function spreadsOf(table: RowTable, names: BatchNames, quiet: Uint8Array): Spread[] {
  const spreads = new Map<number, Spread>();
  const { order } = table.bySample();
  // Sample by sample, so that samples can be counted without a list of them.
  for (let at = 0; at < order.length; at++) {
    const row = order[at] as number;
    const name = table.nameAt(row);
    if (quiet[name] === 1) continue;
    // The column of the stage matters only for names that hold a stage themselves.
    const stage = names.stages[name] === undefined ? LIFE_STAGES.length : table.stageNumberAt(row);
    const key = name * (LIFE_STAGES.length + 1) + stage;
    const sample = table.sampleAt(row);
    const spread = spreads.get(key);
    if (spread === undefined) {
      spreads.set(key, { firstRow: row, rows: 1, samples: 1, lastSample: sample });
      continue;
    }
    spread.rows++;
    if (row < spread.firstRow) spread.firstRow = row;
    if (sample === spread.lastSample) continue;
    spread.samples++;
    spread.lastSample = sample;
  }
  return [...spreads.values()].sort((a, b) => a.firstRow - b.firstRow);
}

function nothingToSay(table: RowTable, names: BatchNames, number: number): boolean {
  const resolution = names.resolutions[number];
  if (resolution === undefined || resolution.kind === "unknown") return true;
  if (names.stages[number] !== undefined) return false;
  const place = { file: "", line: 0, column: 0 };
  return nameFindings(table.names.textOf(number), resolution, { place, sampleId: "" }).length === 0;
}

function findingsOf(table: RowTable, names: BatchNames, { firstRow, rows, samples }: Spread): Finding[] {
  const name = table.nameAt(firstRow);
  const resolution = names.resolutions[name];
  if (resolution === undefined) return [];
  const isOne = samples === 1;
  const where = rows === 1 ? "" : ` (${rows} rows, ${isOne ? "1 sample" : `${samples} samples`})`;
  return nameFindings(table.names.textOf(name), resolution, {
    place: placeOfName(table, firstRow),
    sampleId: isOne ? table.samples.textOf(table.sampleAt(firstRow)) : "",
    stage: table.stageAt(firstRow),
  }).map((one) => ({ ...one, message: `${one.message}${where}` }));
}

/** How many taxa a note names before it only counts them. */
const MOST_NAMED = 5;

/**
 * One note for the batch about records coarser than the level the set asks for, at the first of them: they stay
 * as they are, since records are rolled up and never down. `explain` tells them sample by sample.
 */
export function reportCoarse({ table, names, compiled }: Batch, findings: FindingSink): void {
  const { level } = compiled.set.definition;
  const coarse = coarserThanLevel(level, compiled.tree, compiled.levelOf);
  const isCoarse = Uint8Array.from(names.taxa, (taxon) => (taxon >= 0 && coarse[taxon] === 1 ? 1 : 0));
  if (!isCoarse.includes(1)) return;
  const taxa = new Set<number>();
  const samples = new Set<number>();
  let animals = 0;
  let first = -1;
  for (let row = 0; row < table.size; row++) {
    const name = table.nameAt(row);
    if (isCoarse[name] !== 1) continue;
    const taxon = names.taxa[name] as number;
    const written = table.stageAt(row);
    const stage = written === "unknown" ? (names.stages[name] ?? "unknown") : written;
    const isReleased = (table.flagsAt(row) & ROW_FLAGS.released) !== 0;
    if (compiled.policy.decide(taxon, stage, isReleased).policy !== "count") continue;
    if (first < 0) first = row;
    taxa.add(taxon);
    samples.add(table.sampleAt(row));
    animals += table.countAt(row);
  }
  if (first < 0) return;
  const named = [...taxa].map((taxon) => compiled.tree.nameOf(taxon)).sort(compareCodePoints);
  const rest = named.length > MOST_NAMED ? ` and ${named.length - MOST_NAMED} more` : "";
  findings.add(
    finding("coarse-records", placeOfName(table, first), {
      message: `${count(animals, "animal")} of ${count(taxa.size, "taxon", "taxa")} in ${count(samples.size, "sample")} are coarser than ${level.rank}: ${named.slice(0, MOST_NAMED).join(", ")}${rest}`,
    }),
  );
}

function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}
