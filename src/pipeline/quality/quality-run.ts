import type { OutputColumn } from "../../files/formats/define.ts";
import type { Finding } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import { toNumber } from "../../model/exact.ts";
import type { ControlChart } from "../../quality/control-chart.ts";
import type { Outcome } from "../../quality/judgement.ts";
import type { QualityTable } from "../../report/quality-table.ts";
import type { ReadFile } from "../../sheets/bench-sheet.ts";

/** What a quality command found out. */
export interface QualityRun {
  /** The first one is what the command gives when nothing else is asked for; empty when the data were refused. */
  readonly tables: readonly QualityTable[];
  readonly charts: readonly ControlChart[];
  readonly findings: readonly Finding[];
  readonly inputs: readonly ReadFile[];
  readonly outcome: Outcome;
  /** The result in a line. */
  readonly summary: string;
  /** Rules, limits and where they come from, for the head of a report. */
  readonly rules: readonly string[];
}

/** A run of which nothing could be read. */
export function refusedRun(findings: readonly Finding[], inputs: readonly ReadFile[]): QualityRun {
  return {
    tables: [],
    charts: [],
    findings,
    inputs,
    outcome: "not-computable",
    summary: "nothing could be compared",
    rules: [],
  };
}

export const text = (name: string): OutputColumn => ({ name, kind: "text" });
export const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** An exact figure as a cell; empty where it could not be computed. */
export function cell(value: Exact | undefined): number | null {
  return value === undefined ? null : toNumber(value);
}

/** "1 sample", "2 samples". */
export function countText(count: number, one: string, several = `${one}s`): string {
  return `${count} ${count === 1 ? one : several}`;
}
