import type { Tray } from "../subsample/tray.ts";
import type { StopChoices } from "./options/tray.ts";

/** What the user chose for a draw. */
export interface SubsampleChoices {
  readonly by: "individual" | "grid";
  readonly target: number;
  /** Heeded by grid only. */
  readonly stop: StopChoices;
  readonly trays: readonly Tray[];
  /** Undefined for a single draw without the column draw. */
  readonly draws: number | undefined;
  readonly seed: string | undefined;
  readonly algorithm: string | undefined;
  readonly summaryPath: string | undefined;
}
