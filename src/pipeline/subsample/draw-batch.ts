import type { FindingCode } from "../../findings/register.ts";
import { numericFact } from "../../model/sample-facts.ts";
import type { CountPolicy } from "../../names/count-policy.ts";
import { flagsOf } from "../flags.ts";
import type { NamedRows } from "../load-rows.ts";
import { drawByGrid } from "./by-grid.ts";
import { drawByIndividual } from "./by-individual.ts";
import type { DrawChoices, DrawnSample, SampleDraw } from "./drawn-sample.ts";
import { notDrawn } from "./kept-rows.ts";
import type { SampleToDraw } from "./walk-samples.ts";
import { walkSamples } from "./walk-samples.ts";

/**
 * Draws every sample of a batch. Animals that do not count leave before the draw; animals of the large/rare
 * search are never drawn. The draw of a sample depends on the algorithm, the seed, its id and its rows only.
 *
 * @returns sample by sample, each with its draws in their order; a sample that cannot be drawn comes once
 */
export function* drawBatch(
  rows: NamedRows,
  policy: CountPolicy,
  choices: DrawChoices,
): Generator<DrawnSample> {
  for (const sample of walkSamples(rows, policy)) {
    let number = 0;
    // What holds of every draw is said once.
    const met = (choices.draws ?? 1) > 1 ? new Set<FindingCode>() : undefined;
    for (const draw of drawsOf(sample, choices)) {
      number++;
      yield drawnSample(sample, draw, number, met);
    }
  }
}

function drawsOf(sample: SampleToDraw, choices: DrawChoices): Iterable<SampleDraw> {
  const { stopped, piles } = sample;
  if (stopped !== undefined)
    return [notDrawn(stopped.status, stopped.status === "refused" ? undefined : piles.counted)];
  const { method } = choices;
  return method.by === "grid"
    ? drawByGrid(sample, method.rule, method.trays, choices)
    : drawByIndividual(sample, method.target, choices);
}

/** @param met codes already reported of the sample; undefined where it is drawn once */
function drawnSample(
  sample: SampleToDraw,
  draw: SampleDraw,
  number: number,
  met: Set<FindingCode> | undefined,
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
    remaining: draw.remaining,
    flags: flagsOf(all, joined(stopped?.codes ?? [], draw.notes)),
    findings: fresh,
    firstRow: sample.own[0] ?? 0,
  };
}

function joined<Item>(some: readonly Item[], more: readonly Item[]): readonly Item[] {
  if (more.length === 0) return some;
  return some.length === 0 ? more : [...some, ...more];
}
