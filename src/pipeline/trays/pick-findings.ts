import type { Finding, Place } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { LoggedPick } from "../../sheets/pick-log.ts";
import type { PickProblem } from "../../subsample/pick-log.ts";

/** Says what is wrong with the pick log of a sample, each time at the row concerned. */
export function pickFinding(
  sampleId: string,
  problem: PickProblem,
  picks: readonly LoggedPick[],
  whole: Place,
): Finding {
  const place = placeOf(problem, picks) ?? whole;
  const told = (message: string) => ({ message, sampleId });
  const { level } = problem;
  switch (problem.kind) {
    case "not-on-tray":
      return finding(
        "bad-pick",
        place,
        told(
          `the tray of level ${level} of ${sampleId} has ${problem.gridsOnTray} grids and no ${problem.grid}`,
        ),
      );
    case "bad-level":
      return finding("bad-pick", place, told(`level ${level} of ${sampleId} is not one from 1 to 9`));
    case "bad-number":
      return finding("bad-pick", place, told(`the animals of grid ${problem.grid} are no whole number`));
    case "bad-portion":
      return finding("bad-pick", place, told(`the portion of grid ${problem.grid} is no share of it`));
    case "grid-twice":
      return finding(
        "bad-pick",
        place,
        told(`grid ${problem.grid} of level ${level} of ${sampleId} is there twice`),
      );
    case "level-missing":
      return finding(
        "bad-pick",
        place,
        told(`${sampleId} was picked on a tray after level ${level}, of which there is no row`),
      );
    case "no-grid-moved":
      return finding(
        "bad-pick",
        place,
        told(
          `${sampleId} was picked on a tray after level ${level}, and no row says which grids of level ${level} went there: leave their picked empty`,
        ),
      );
    case "out-of-order":
      return finding("out-of-order", place, {
        ...told(
          `grid ${problem.grid} of level ${level} of ${sampleId} was picked before grid ${problem.expected}, which comes first`,
        ),
        hint: "pick the grid that was left out, or note why it could not be picked; with another seed or tray than the pick sheet's, every sample looks like this",
      });
    case "split-before-last":
      return finding(
        "split-before-last",
        place,
        told(
          `grid ${problem.grid} of level ${level} of ${sampleId} was split, and another grid picked after it`,
        ),
      );
  }
}

/** The last row with this level and grid; for a whole level its first row. */
function placeOf(problem: PickProblem, picks: readonly LoggedPick[]): Place | undefined {
  if (!("grid" in problem)) return (picks.find((pick) => pick.level > problem.level) ?? picks[0])?.place;
  return picks.findLast((pick) => pick.level === problem.level && pick.grid === problem.grid)?.place;
}
