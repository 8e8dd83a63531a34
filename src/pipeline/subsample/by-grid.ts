import { FindingCollector } from "../../findings/collector.ts";
import type { Finding } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import { toNumber } from "../../model/exact.ts";
import { LIFE_STAGES } from "../../model/life-stage.ts";
import { GRID_ALGORITHMS, selectAlgorithm } from "../../subsample/algorithms.ts";
import type { GridDraw } from "../../subsample/draw-grids.ts";
import type { StopRule } from "../../subsample/stop-rule.ts";
import { enoughAnimals } from "../../subsample/stop-rule.ts";
import { randomStream } from "../../subsample/stream.ts";
import type { Tray } from "../../subsample/tray.ts";
import { pileBits } from "../../taxa/counted-columns.ts";
import { emptySample, expandedCounts, fewGrids, underTarget } from "./draw-findings.ts";
import type { DrawChoices, SampleDraw } from "./drawn-sample.ts";
import { keepLargeRare, refusedDraw } from "./kept-rows.ts";
import type { KeptTable } from "./kept-table.ts";
import { keptKind } from "./kept-table.ts";
import type { SampleGrids } from "./sample-grids.ts";
import { sampleGrids } from "./sample-grids.ts";
import type { SampleToDraw, SampleWithPiles } from "./walk-samples.ts";
import { withPiles } from "./walk-samples.ts";

/**
 * Draws a sample grid by grid until the rule is met, as it is done at the tray.
 *
 * @param rest takes the rows that remain, those of a draw before it is given back
 */
export function* drawByGrid(
  sample: SampleToDraw,
  rule: StopRule,
  trays: readonly Tray[],
  choices: DrawChoices,
  rest: KeptTable,
): Generator<SampleDraw> {
  const algorithm = selectAlgorithm(GRID_ALGORITHMS, choices.algorithm);
  const draws = choices.draws ?? 1;
  if (sample.piles.counted === 0 && sample.share === 1) {
    // Nothing was in any grid; that does not depend on the tray.
    for (let draw = 0; draw < draws; draw++) {
      keepLargeRare(sample, rest);
      yield emptyDraw(sample, algorithm.id);
    }
    return;
  }
  const findings = new FindingCollector();
  const whole = withPiles(sample);
  const grids = sampleGrids(whole, trays, findings);
  if (grids === undefined) {
    yield refusedDraw(sample, findings.all);
    return;
  }
  const stream = randomStream(algorithm.id, choices.seed, sample.sampleId);
  for (let draw = 0; draw < draws; draw++) {
    const drawn = algorithm.run(grids.sheet, rule, stream);
    if (sample.piles.hasExpanded && drawn.split !== "none") {
      yield refusedDraw(sample, [...findings.all, expandedCounts(sample, rule.range.target)]);
      return;
    }
    const told = notesOf(sample, rule, drawn, grids, choices);
    keepCells(whole, grids, drawn, rest);
    yield {
      status: drawn.status,
      counted: sample.piles.counted,
      kept: drawn.kept,
      fractionSorted: toNumber(drawn.fractionSorted),
      estimatedTotal: toNumber(drawn.estimatedTotal),
      grids: drawn.grids,
      split: drawn.split,
      algorithm: algorithm.id,
      findings: [...(draw === 0 ? findings.all : []), ...told.findings],
      notes: told.notes,
    };
  }
}

function emptyDraw(sample: SampleToDraw, algorithm: string): SampleDraw {
  return {
    status: "empty",
    counted: 0,
    kept: 0,
    fractionSorted: 1,
    estimatedTotal: 0,
    grids: [],
    split: "none",
    algorithm,
    findings: [emptySample(sample)],
    notes: [],
  };
}

function notesOf(
  sample: SampleToDraw,
  rule: StopRule,
  drawn: GridDraw,
  { sheet }: SampleGrids,
  choices: DrawChoices,
): { readonly findings: readonly Finding[]; readonly notes: readonly FindingCode[] } {
  const { sampleId, place } = sample;
  const { lower, upper } = rule.range;
  const findings: Finding[] = [];
  const notes: FindingCode[] = [];
  if (drawn.status === "under-target")
    findings.push(
      underTarget(sampleId, place, drawn.kept, rule.range.target, toNumber(drawn.fractionSorted)),
    );
  if (drawn.status === "empty") findings.push(emptySample(sample));
  if (drawn.isOver) {
    const message = `sample ${sampleId} keeps ${drawn.kept} animals; ${lower} to ${upper} were asked for`;
    findings.push(finding("over-range", place, { message, sampleId }));
    notes.push("over-range");
  }
  // Only a count that ended the picking makes the estimate too high.
  if (drawn.hasFewGrids && drawn.kept >= enoughAnimals(rule)) {
    notes.push("few-grids");
    if (choices.showsEstimates === true)
      findings.push(
        fewGrids(sampleId, place, toNumber(drawn.estimatedTotal), drawn.grids.length, sheet.gridsOnTray),
      );
  }
  return { findings, notes };
}

/** Grid by grid in the order drawn, then what lies outside of the grids. */
function keepCells(
  sample: SampleWithPiles,
  { cells, trayLevel }: SampleGrids,
  drawn: GridDraw,
  rest: KeptTable,
): void {
  const { main, rows } = sample;
  for (const { grid, left } of drawn.grids)
    for (const [at, pile] of main.entries()) {
      const count = left[at] as number;
      if (count === 0) continue;
      const { distinct, numberOfTaxa } = cells.factsOf(grid, at);
      const kind = keptKind(LIFE_STAGES.indexOf(pile.stage), pileBits(pile.largeRare, distinct));
      rest.add(rows.table.nameAt(pile.firstRow), count, kind, Math.min(numberOfTaxa, count));
      rest.setPlace(grid, trayLevel);
    }
  keepLargeRare(sample, rest);
}
