import { expect, it } from "vitest";
import { fraction } from "../../src/model/exact.ts";
import { enoughAnimals, isFewGrids } from "../../src/subsample/stop-rule.ts";
import { targetRange } from "../../src/subsample/target-range.ts";

it("asks for the lower end of the range or for the target", () => {
  const rule = { range: targetRange(200, fraction(1, 5)), atLeast: 4, lastGrid: "split" } as const;
  expect(enoughAnimals({ ...rule, stopAt: "lower" })).toBe(160);
  expect(enoughAnimals({ ...rule, stopAt: "target" })).toBe(200);
});

/** A quarter of the tray as the least share: two tray protocols, see the source. */
it.each([
  [7, 30, true],
  [8, 30, false],
  [4, 16, false],
  [3, 16, true],
  [1, 2, false],
  [1, 1, false],
  [30, 30, false],
])("says of %d of %d grids whether they are few", (picked, onTray, isFew) => {
  expect(isFewGrids(picked, onTray)).toBe(isFew);
});
