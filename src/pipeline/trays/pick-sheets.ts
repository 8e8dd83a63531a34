import { fact } from "../../model/sample-facts.ts";
import type { PickSheet } from "../../report/pick-sheet.ts";
import type { PlannedSample } from "./plan-log.ts";

/** The sheet that goes to the tray with a sample. */
export function pickSheetOf(plan: PlannedSample, seed: string): PickSheet {
  const { sampleId, facts, trays, rule } = plan;
  const known = (label: string, column: Parameters<typeof fact>[1]) => {
    const value = fact(facts, column);
    return value === undefined ? [] : [[label, value] as const];
  };
  const received = fact(facts, "containers_received");
  const expected = fact(facts, "containers_expected");
  return {
    sampleId,
    facts: [
      ...known("site", "site_id"),
      ...known("water", "waterbody"),
      ...known("collected", "collected_on"),
      ...known("lab number", "lab_number"),
      ...known("lot", "lot"),
      ...known("jars", "containers_expected"),
      ...known("preservative", "preservative"),
    ],
    tray: trays.trayOf(1),
    order: trays.orderOf(1),
    second: { tray: trays.trayOf(2), order: trays.orderOf(2) },
    rule,
    seed,
    algorithm: trays.algorithm,
    warning: plan.isHeldBack
      ? `Only ${received} of ${expected} jars are in: do not spread this sample before all of them are there.`
      : undefined,
  };
}
