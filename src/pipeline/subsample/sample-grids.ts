import type { FindingSink } from "../../findings/collector.ts";
import type { Place } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import { compareExact, divide, fraction, ONE, parseDecimal, ZERO } from "../../model/exact.ts";
import { ROW_FLAGS } from "../../model/rows.ts";
import { fact } from "../../model/sample-facts.ts";
import type { GridSheet, GridSheetProblem } from "../../subsample/grid-sheet.ts";
import { checkGridSheet } from "../../subsample/grid-sheet.ts";
import type { Tray } from "../../subsample/tray.ts";
import { gridsOnTray } from "../../subsample/tray.ts";
import { placeOfFact } from "../log-checks.ts";
import { placeOfName } from "../sample-piles.ts";
import { traysOf } from "../trays/plan-trays.ts";
import type { GridCells } from "./grid-cells.ts";
import { gatherCells } from "./grid-cells.ts";
import type { SampleToDraw, SampleWithPiles } from "./walk-samples.ts";

/** A sample whose animals are told apart by grid. */
export interface SampleGrids {
  readonly sheet: GridSheet;
  readonly cells: GridCells;
  /** As on the sheet: empty or 1 for the first tray. */
  readonly trayLevel: string;
}

/**
 * Reads the grids of a sample off its sheet: those of its main part, also of animals that do not count.
 *
 * @param given shapes of trays for samples whose log names none
 * @returns undefined, with findings, when its grids cannot be drawn
 */
export function sampleGrids(
  sample: SampleWithPiles,
  given: readonly Tray[],
  findings: FindingSink,
): SampleGrids | undefined {
  const told = (code: "bad-grid" | "no-grid" | "no-tray", place: Place, message: string) => {
    findings.add(finding(code, place, { message, sampleId: sample.sampleId }));
    return undefined;
  };
  const { sampleId, rows, facts, place } = sample;
  const levels = levelsOf(sample);
  if (levels.length > 1)
    return told(
      "bad-grid",
      place,
      `the grids of ${sampleId} are of trays ${levels.join(" and ")}; draw by individual`,
    );
  const trayLevel = levels[0] ?? "1";
  const level = /^[1-9]$/.test(trayLevel) ? Number(trayLevel) : undefined;
  if (level === undefined)
    return told("bad-grid", place, `tray_level "${trayLevel}" of ${sampleId} is not one from 1 to 9`);
  const trays = traysOf(facts, given);
  const tray = trays[Math.min(level, trays.length) - 1];
  if (tray === undefined)
    return told(
      "no-tray",
      facts === undefined ? place : placeOfFact(facts, "tray"),
      `the tray of sample ${sampleId} is not known`,
    );
  const cells = gatherCells(sample);
  const nowhere = cells.withoutGrid;
  if (nowhere !== undefined)
    return told("no-grid", placeOfName(rows.table, nowhere), `a row of ${sampleId} has no grid`);
  const sorted = gridsSorted(sample, level, tray, cells.grids.length);
  if (typeof sorted === "string") return told("bad-grid", placeOfSorted(sample), sorted);
  if (sorted.isAssumed)
    findings.add(
      finding("assumed-grids", place, {
        message: `the ${cells.grids.length} grids that the sheet of ${sampleId} names are taken for all that were sorted`,
        sampleId,
      }),
    );
  const onTray = gridsOnTray(tray);
  const share = level === 1 ? ONE : shareOnTray(sample, sorted.grids, onTray);
  if (share === undefined)
    return told(
      "bad-grid",
      placeOfSorted(sample),
      `the grids of ${sampleId} are of tray ${level}, so the log must give its fraction_sorted, not more than ${sorted.grids} of ${onTray} grids come to`,
    );
  const sheet = { grids: cells.grids, gridsSorted: sorted.grids, gridsOnTray: onTray, shareOnTray: share };
  const problems = checkGridSheet(sheet);
  for (const problem of problems)
    told("bad-grid", placeOf(problem, sample, cells), problemText(problem, sampleId));
  return problems.length > 0 ? undefined : { sheet, cells, trayLevel: level === 1 ? "" : trayLevel };
}

/** Trays named by rows of the main part, an empty cell being the first one. */
function levelsOf({ own, rows: { table } }: SampleToDraw): string[] {
  const levels = new Set<string>();
  for (const row of own)
    if ((table.flagsAt(row) & ROW_FLAGS.largeRare) === 0) levels.add(table.rareAt(row)?.trayLevel ?? "1");
  return [...levels];
}

interface SortedGrids {
  readonly grids: number;
  readonly isAssumed: boolean;
}

/** How many grids were looked at, from the log, or what is wrong with that. */
function gridsSorted(sample: SampleToDraw, level: number, tray: Tray, named: number): SortedGrids | string {
  const { facts, sampleId } = sample;
  // The numbers of the log are those of the first tray.
  if (level > 1) return { grids: Math.max(1, named), isAssumed: true };
  const given = fact(facts, "grids_sorted");
  if (given !== undefined) {
    if (/^\d+(\.0+)?$/.test(given) && Number(given) >= 1) return { grids: Number(given), isAssumed: false };
    return `grids_sorted ${given} of ${sampleId} is no whole number of grids; draw by individual where a grid was split`;
  }
  const grids = (sample.share ?? 0) * gridsOnTray(tray);
  const whole = Math.round(grids);
  if (whole >= 1 && Math.abs(grids - whole) < 1e-6) return { grids: whole, isAssumed: false };
  return { grids: Math.max(1, named), isAssumed: true };
}

/** Share of the sample that lay on a later tray: what was sorted of all, by what was sorted of this tray. */
function shareOnTray({ facts }: SampleToDraw, grids: number, onTray: number): Exact | undefined {
  const sorted = parseDecimal(fact(facts, "fraction_sorted") ?? "");
  if (sorted === undefined || compareExact(sorted, ZERO) <= 0) return undefined;
  const share = divide(sorted, fraction(grids, onTray));
  return compareExact(share, ONE) <= 0 ? share : undefined;
}

function placeOfSorted({ facts, place }: SampleToDraw): Place {
  return facts === undefined ? place : placeOfFact(facts, "grids_sorted");
}

function placeOf(problem: GridSheetProblem, sample: SampleToDraw, cells: GridCells): Place {
  if (!("grid" in problem)) return placeOfSorted(sample);
  const row = cells.firstRows.get(problem.grid);
  return row === undefined ? sample.place : placeOfName(sample.rows.table, row);
}

function problemText(problem: GridSheetProblem, sampleId: string): string {
  switch (problem.kind) {
    case "grid-twice":
      return `grid ${problem.grid} of ${sampleId} is written in two ways`;
    case "grid-not-on-tray":
      return `the tray of ${sampleId} has ${problem.gridsOnTray} grids and no ${problem.grid}`;
    case "more-grids-than-sorted":
      return `the sheet of ${sampleId} names ${problem.named} grids and the log says that ${problem.gridsSorted} were sorted`;
    case "more-sorted-than-on-tray":
      return `the log says that ${problem.gridsSorted} grids of ${sampleId} were sorted; its tray has ${problem.gridsOnTray}`;
  }
}
