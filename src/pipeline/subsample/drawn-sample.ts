import type { Finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { GridDraw } from "../../subsample/draw-grids.ts";
import type { CountStatus } from "../../subsample/fixed-count.ts";
import type { StopRule } from "../../subsample/stop-rule.ts";
import type { Tray } from "../../subsample/tray.ts";
import type { KeptTable } from "./kept-table.ts";

/** What is drawn: single animals up to a target, or grids until the rule is met. */
export type DrawMethod =
  | { readonly by: "individual"; readonly target: number }
  | { readonly by: "grid"; readonly rule: StopRule; readonly trays: readonly Tray[] };

/** How every sample of a batch is drawn. */
export interface DrawChoices {
  readonly method: DrawMethod;
  readonly seed: string;
  /** Id of the algorithm; the newest of the method when left out. */
  readonly algorithm?: string | undefined;
  /** How often each sample is drawn; once when left out. */
  readonly draws?: number | undefined;
  /** Estimated totals are shown, so findings about them are worth printing. */
  readonly showsEstimates?: boolean | undefined;
}

/** What became of one sample in one draw, beside the rows that it leaves. */
export interface SampleDraw {
  readonly status: CountStatus | "held-back" | "refused";
  /** Animals that count, before the draw; undefined when it is not known. */
  readonly counted: number | undefined;
  readonly kept: number | undefined;
  /** By individual the share that was sorted; by grid the share that the kept animals stand for. */
  readonly fractionSorted: number | undefined;
  readonly estimatedTotal: number | undefined;
  /** Only of a draw by grid, in the order drawn. */
  readonly grids?: GridDraw["grids"] | undefined;
  readonly split?: GridDraw["split"] | undefined;
  readonly algorithm: string;
  /** What is said of the draw, beside the findings about the sample. */
  readonly findings: readonly Finding[];
  /** Notes that belong beside the estimates. */
  readonly notes: readonly FindingCode[];
}

/** Gives the next draw of a sample each time it is called, and undefined after the last one. */
export type NextDraw = () => SampleDraw | undefined;

/** One sample after one draw. */
export interface DrawnSample extends Omit<SampleDraw, "notes"> {
  readonly sampleId: string;
  readonly siteId: string;
  /** Which draw of the sample, counted from 1. */
  readonly draw: number;
  /** Estimated total by the area of the log, animals per square metre. */
  readonly individualsPerM2: number | undefined;
  readonly flags: readonly FindingCode[];
  /** Number of the first row of the sample. */
  readonly firstRow: number;
  /** Its rows of the sheet that remains are those of its block from here to before the end; large and rare animals stay as they are. */
  readonly start: number;
  readonly end: number;
}

/** Samples one after the other, with the rows that remain of them. */
export interface DrawnBlock {
  readonly samples: readonly DrawnSample[];
  readonly kept: KeptTable;
}
