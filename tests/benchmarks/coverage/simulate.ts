import { inputFromBytes } from "../../../src/files/input.ts";
import { loadBatch } from "../../../src/pipeline/load.ts";
import type { Batch } from "../../../src/pipeline/score-batch.ts";
import type { RandomStream } from "../../../src/subsample/stream.ts";
import { GRIDS, type KnownJar } from "./jars.ts";

/** How subsamples are taken from a jar and written down. */
export interface Picking {
  readonly jar: KnownJar;
  /** Animals of the fixed count. */
  readonly n: number;
  /** Whether the bench sheet names the grid of each animal. */
  readonly hasGrids: boolean;
}

/** Attribute lists in place of those that are not held. */
const LISTS: Readonly<Record<string, readonly string[]>> = {
  "pennsylvania-freestone-2012": ["rbp1999-northwest"],
  "puget-lowland-genus-1999": ["rbp1999-northwest", "feeding-group", "habit", "life-cycle"],
};

/** Least number of grids that are picked (common practice, no source). */
const LEAST_GRIDS = 4;

/** Subsamples of a jar as a batch read from a bench sheet and a sample log, as a lab would hand them in. */
export async function subsamples(
  picking: Picking,
  samples: number,
  reference: string,
  stratum: string,
  stream: RandomStream,
): Promise<Batch> {
  const rows: string[] = ["sample_id,taxon,count,grid"];
  const log: string[] = ["sample_id,stratum,tray,grids_sorted,fraction_sorted"];
  for (let sample = 0; sample < samples; sample++) {
    const id = `S${sample}`;
    if (picking.jar.isClumped) pickGrids(picking, id, stratum, stream, rows, log);
    else pickAnimals(picking, id, stratum, stream, rows, log);
  }
  const loaded = await loadBatch(
    {
      sheets: [inputFromBytes("sheet.csv", rows.join("\n"))],
      sampleLog: inputFromBytes("log.csv", log.join("\n")),
    },
    reference,
    ".",
    // The lists of some methods are not held here; which list it is does not matter to the study.
    LISTS[reference] === undefined ? {} : { attributes: LISTS[reference] },
  );
  if (loaded.batch === undefined)
    throw new Error(loaded.findings.filter((one) => one.severity === "error").map((one) => one.message)[0]);
  return loaded.batch;
}

function pickAnimals(
  { jar, n }: Picking,
  id: string,
  stratum: string,
  stream: RandomStream,
  rows: string[],
  log: string[],
): void {
  const animals: number[] = [];
  for (const grid of jar.grids)
    for (const [taxon, count] of grid.entries()) for (let i = 0; i < count; i++) animals.push(taxon);
  const counts = new Int32Array(jar.taxa.length);
  for (let at = 0; at < n; at++) {
    const other = at + stream.below(animals.length - at);
    [animals[at], animals[other]] = [animals[other] ?? 0, animals[at] ?? 0];
    const taxon = animals[at] ?? 0;
    counts[taxon] = (counts[taxon] ?? 0) + 1;
  }
  addRows(rows, id, jar, counts, "");
  log.push(`${id},${stratum},,,${(n / animals.length).toFixed(8)}`);
}

function pickGrids(
  { jar, n, hasGrids }: Picking,
  id: string,
  stratum: string,
  stream: RandomStream,
  rows: string[],
  log: string[],
): void {
  const order = jar.grids.map((_, grid) => grid);
  let animals = 0;
  let picked = 0;
  while (picked < GRIDS && (picked < LEAST_GRIDS || animals < n)) {
    const other = picked + stream.below(GRIDS - picked);
    [order[picked], order[other]] = [order[other] ?? 0, order[picked] ?? 0];
    const grid = jar.grids[order[picked++] ?? 0] ?? new Int32Array(0);
    for (const count of grid) animals += count;
    addRows(rows, id, jar, grid, hasGrids ? String((order[picked - 1] ?? 0) + 1) : "");
  }
  log.push(`${id},${stratum},5x6,${picked},`);
}

function addRows(rows: string[], id: string, jar: KnownJar, counts: Int32Array, grid: string): void {
  for (const [taxon, count] of counts.entries())
    if (count > 0) rows.push(`${id},${jar.taxa[taxon]},${count},${grid}`);
}
