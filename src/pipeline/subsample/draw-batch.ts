import type { Finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import { numericFact } from "../../model/sample-facts.ts";
import type { CountPolicy } from "../../names/count-policy.ts";
import { flagsOf } from "../flags.ts";
import type { NamedRows } from "../load.ts";
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
    const met = new Set<FindingCode>();
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

/** @param met codes already reported of the sample: what holds of every draw is said once */
function drawnSample(
  sample: SampleToDraw,
  { notes, ...draw }: SampleDraw,
  number: number,
  met: Set<FindingCode>,
): DrawnSample {
  const { sampleId, siteId, facts, own, stopped } = sample;
  const fresh: Finding[] = draw.findings.filter((one) => !met.has(one.code));
  for (const { code } of draw.findings) met.add(code);
  const area = numericFact(facts, "area_sampled_m2");
  return {
    ...draw,
    sampleId,
    siteId,
    draw: number,
    individualsPerM2:
      draw.estimatedTotal === undefined || area === undefined || !(area > 0)
        ? undefined
        : draw.estimatedTotal / area,
    flags: flagsOf([...sample.findings, ...draw.findings], [...(stopped?.codes ?? []), ...notes]),
    findings: [...(number === 1 ? sample.findings : []), ...fresh],
    firstRow: own[0] ?? 0,
  };
}
