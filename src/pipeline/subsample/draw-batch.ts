import type { FindingCode } from "../../findings/register.ts";
import { numericFact } from "../../model/sample-facts.ts";
import type { CountPolicy } from "../../names/count-policy.ts";
import { flagsOf } from "../flags.ts";
import type { NamedRows } from "../load-rows.ts";
import { drawByGrid } from "./by-grid.ts";
import { drawByIndividual } from "./by-individual.ts";
import type { DrawChoices, DrawnBlock, DrawnSample, NextDraw, SampleDraw } from "./drawn-sample.ts";
import { drawnOnce, notDrawn } from "./kept-rows.ts";
import { KeptTable } from "./kept-table.ts";
import type { SampleRange, SampleToDraw } from "./walk-samples.ts";
import { walkSamples } from "./walk-samples.ts";

/** A block is handed on when it has so many rows, or draws: few enough to stay in the memory nearest to the processor. */
const BLOCK_ROWS = 2048;
const BLOCK_DRAWS = 1024;

/**
 * Draws every sample of a batch. Animals that do not count leave before the draw; animals of the large/rare
 * search are never drawn. The draw of a sample depends on the algorithm, the seed, its id and its rows only, so
 * a batch may be drawn in parts.
 *
 * @param range the samples that are drawn, all of them when left out
 * @returns sample by sample, each with its draws in their order; a sample that cannot be drawn comes once. A block
 *   is good until the next one is asked for
 */
export function* drawBatch(
  rows: NamedRows,
  policy: CountPolicy,
  choices: DrawChoices,
  range?: SampleRange,
): Generator<DrawnBlock> {
  const kept = new KeptTable();
  let samples: DrawnSample[] = [];
  for (const sample of walkSamples(rows, policy, range)) {
    let number = 0;
    // What holds of every draw is said once.
    const met = (choices.draws ?? 1) > 1 ? new Set<FindingCode>() : undefined;
    let start = kept.size;
    const nextDraw = drawsOf(sample, choices, kept);
    for (let draw = nextDraw(); draw !== undefined; draw = nextDraw()) {
      number++;
      samples.push(drawnSample(sample, draw, number, met, start, kept.size));
      if (kept.size >= BLOCK_ROWS || samples.length >= BLOCK_DRAWS) {
        yield { samples, kept };
        samples = [];
        kept.clear();
      }
      start = kept.size;
    }
  }
  if (samples.length > 0) yield { samples, kept };
}

function drawsOf(sample: SampleToDraw, choices: DrawChoices, kept: KeptTable): NextDraw {
  const { stopped, piles } = sample;
  if (stopped !== undefined)
    return drawnOnce(notDrawn(stopped.status, stopped.status === "refused" ? undefined : piles.counted));
  const { method } = choices;
  if (method.by === "individual") return drawByIndividual(sample, method.target, choices, kept);
  const draws = drawByGrid(sample, method.rule, method.trays, choices, kept);
  return () => draws.next().value ?? undefined;
}

/** @param met codes already reported of the sample; undefined where it is drawn once */
function drawnSample(
  sample: SampleToDraw,
  draw: SampleDraw,
  number: number,
  met: Set<FindingCode> | undefined,
  start: number,
  end: number,
): DrawnSample {
  const { facts, stopped } = sample;
  const { estimatedTotal, findings } = draw;
  const all = joined(sample.findings, findings);
  const fresh = number === 1 ? all : findings.filter((one) => met?.has(one.code) !== true);
  for (const { code } of findings) met?.add(code);
  const area = numericFact(facts, "area_sampled_m2");
  // Every member by its name: copies of whole objects take longer than the draw of a sample.
  return {
    sampleId: sample.sampleId,
    siteId: sample.siteId,
    draw: number,
    status: draw.status,
    counted: draw.counted,
    kept: draw.kept,
    fractionSorted: draw.fractionSorted,
    estimatedTotal,
    individualsPerM2:
      estimatedTotal === undefined || area === undefined || !(area > 0) ? undefined : estimatedTotal / area,
    grids: draw.grids,
    split: draw.split,
    algorithm: draw.algorithm,
    flags: flagsOf(all, joined(stopped?.codes ?? [], draw.notes)),
    findings: fresh,
    firstRow: sample.own[0] ?? 0,
    start,
    end,
  };
}

function joined<Item>(some: readonly Item[], more: readonly Item[]): readonly Item[] {
  if (more.length === 0) return some;
  return some.length === 0 ? more : [...some, ...more];
}
