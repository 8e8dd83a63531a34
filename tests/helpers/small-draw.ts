import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { fraction } from "../../src/model/exact.ts";
import { CountPolicy } from "../../src/names/count-policy.ts";
import { loadRows } from "../../src/pipeline/load-rows.ts";
import { drawBatch } from "../../src/pipeline/subsample/draw-batch.ts";
import type { DrawChoices, DrawnSample } from "../../src/pipeline/subsample/drawn-sample.ts";
import type { KeptRow } from "../../src/pipeline/subsample/kept-table.ts";
import type { TrayChoices } from "../../src/pipeline/trays/plan-trays.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";
import type { StopRule } from "../../src/subsample/stop-rule.ts";
import { targetRange } from "../../src/subsample/target-range.ts";

/** 200 within 20 percent, four grids at least, stopping at the lower end, splitting the last grid. */
export const RULE: StopRule = {
  range: targetRange(200, fraction(1, 5)),
  stopAt: "lower",
  atLeast: 4,
  lastGrid: "split",
};

/** The same as choices of a tray, with seed 7. */
export const TRAY_CHOICES: TrayChoices = {
  trays: [],
  target: 200,
  within: fraction(1, 5),
  stopAt: "lower",
  atLeast: 4,
  lastGrid: "split",
  seed: "7",
  algorithm: undefined,
};

/** Rows of a sheet and its log, with names resolved by the shared tables. */
export async function smallRows(sheet: string, log?: string) {
  const loaded = await loadRows({
    sheets: [inputFromBytes("sheet.csv", sheet)],
    sampleLog: log === undefined ? undefined : inputFromBytes("log.csv", log),
  });
  const { rows } = loaded;
  if (rows === undefined) throw new Error(loaded.findings.map((one) => one.message).join("\n"));
  return { rows, policy: new CountPolicy(rows.names.tree, loaded.shared.stageRules, []) };
}

/** One sample after one draw, with the rows that remain of it. */
export interface SmallDrawn extends DrawnSample {
  readonly remaining: readonly KeptRow[];
}

/** All draws of a batch; the rows are taken from their blocks, which are used again. */
export function drawnSamples(...of: Parameters<typeof drawBatch>): SmallDrawn[] {
  const drawn: SmallDrawn[] = [];
  for (const { samples, kept } of drawBatch(...of))
    for (const sample of samples) {
      const remaining: KeptRow[] = [];
      for (let row = sample.start; row < sample.end; row++) remaining.push(kept.rowAt(row));
      drawn.push({ ...sample, remaining });
    }
  return drawn;
}

/** Draws a small batch. */
export async function smallDraw(sheet: string, log: string | undefined, choices: DrawChoices) {
  const { rows, policy } = await smallRows(sheet, log);
  return drawnSamples(rows, policy, choices);
}

/** What remains of a sample, a line a row: taxon count grid part. */
export function linesOf(sample: SmallDrawn | undefined): string[] {
  return (sample?.remaining ?? []).map(({ name, stage, count, grid, largeRare }) =>
    [name, stage, count, grid, largeRare ? "large-rare" : ""].join(" "),
  );
}

/** A sample log read from text. */
export async function smallLog(text: string) {
  const findings = new FindingCollector();
  const log = await readSampleLog(inputFromBytes("log.csv", text), {}, findings);
  return { log, findings };
}
