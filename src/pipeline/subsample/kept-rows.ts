import type { Finding } from "../../findings/finding.ts";
import type { Pile } from "../sample-piles.ts";
import type { KeptRow, SampleDraw } from "./drawn-sample.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/** What remains of a pile that is not told apart by grid. */
export function keptWhole(pile: Pile, count: number = pile.count): KeptRow {
  // A row cannot stand for more taxa than it has animals; finds of the large/rare search stay as written.
  const numberOfTaxa = Math.max(1, Math.min(pile.numberOfTaxa, count));
  return { pile, count, grid: "", trayLevel: "", distinct: pile.distinct, numberOfTaxa };
}

/** A sample that cannot be drawn as was asked. */
export function refusedDraw({ piles }: SampleToDraw, findings: readonly Finding[]): SampleDraw {
  return { ...notDrawn("refused", piles.counted), findings };
}

/** A sample of which nothing is written. */
export function notDrawn(status: "refused" | "held-back", counted: number | undefined): SampleDraw {
  return {
    status,
    counted,
    kept: undefined,
    fractionSorted: undefined,
    estimatedTotal: undefined,
    algorithm: "",
    remaining: [],
    findings: [],
    notes: [],
  };
}
