import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fraction } from "../../../src/model/exact.ts";
import type { DrawChoices } from "../../../src/pipeline/subsample/drawn-sample.ts";
import { shuffled } from "../../../src/subsample/grid-order.ts";
import type { StopRule } from "../../../src/subsample/stop-rule.ts";
import { randomStream } from "../../../src/subsample/stream.ts";
import { targetRange } from "../../../src/subsample/target-range.ts";
import type { Tray } from "../../../src/subsample/tray.ts";
import { brief } from "../../helpers/reading.ts";
import { linesOf, RULE, smallDraw } from "../../helpers/small-draw.ts";

const HEAD = "sample_id,taxon,count,grid,tray_level,part\n";
const LOG = "sample_id,tray,grids_sorted\nA,5x6,8\n";

const choices = (rule: Partial<StopRule> = {}, more: Partial<DrawChoices> = {}, trays: Tray[] = []) => ({
  method: { by: "grid" as const, rule: { ...RULE, ...rule }, trays },
  seed: "7",
  ...more,
});
/** A sheet of sample A with so many Zapada in each of the grids 1, 2, 3 ... */
const sheet = (...counts: readonly number[]) =>
  `${HEAD}${counts.map((count, at) => `A,Zapada,${count},${at + 1},,\n`).join("")}`;
/** The order in which so many grids are drawn. */
const order = (grids: number) =>
  shuffled(grids, randomStream("fixed-count-grid/1", "7", "A")).map((at) => at + 1);
/** Counts of eight grids of which the first drawn holds the first number, and so on. */
const inOrder = (...drawn: readonly number[]) => {
  const counts: number[] = [];
  for (const [at, grid] of order(drawn.length).entries()) counts[grid - 1] = drawn[at] ?? 0;
  return sheet(...counts);
};
const drawOne = async (text: string, rule: Partial<StopRule> = {}, log = LOG) => {
  const [a] = await smallDraw(text, log, choices(rule, { showsEstimates: true }));
  if (a === undefined) throw new Error("nothing was drawn");
  return a;
};
const gridsOf = (sample: Awaited<ReturnType<typeof drawOne>>) =>
  sample.grids?.map(({ grid }) => Number(grid));

describe("a draw by grid", () => {
  it("takes grids in random order until the least number of them and enough animals are reached", async () => {
    const a = await drawOne(inOrder(40, 40, 45, 45, 50, 50, 50, 50));
    expect([a.status, a.counted, a.kept, a.split]).toEqual(["drawn", 370, 170, "none"]);
    expect(gridsOf(a)).toEqual(order(8).slice(0, 4));
    expect(a.fractionSorted).toBeCloseTo(4 / 30, 14);
    expect(a.estimatedTotal).toBe(1275);
    const four = await drawOne(inOrder(200, 1, 1, 1, 1, 1, 1, 1));
    expect(gridsOf(four)).toHaveLength(4);
    expect((await drawOne(inOrder(200, 1, 1, 1, 1, 1, 1, 1), { atLeast: 1 })).kept).toBe(200);
  });

  it("finishes four grids with 170 at the lower end, and goes on where the target itself is wanted", async () => {
    const text = inOrder(40, 40, 45, 45, 50, 50, 50, 50);
    expect((await drawOne(text, { stopAt: "target" })).kept).toBe(220);
  });

  it.each([
    [159, 5, 209],
    [160, 4, 160],
    [240, 4, 240],
    [241, 4, 200],
  ])("with %d animals after four grids it keeps %d grids and %d animals", async (animals, grids, kept) => {
    const a = await drawOne(inOrder(50, 50, 50, animals - 150, 50, 50, 50, 50));
    expect([a.grids?.length, a.kept, a.remaining.reduce((sum, { count }) => sum + count, 0)]).toEqual([
      grids,
      kept,
      kept,
    ]);
  });

  it("splits a last grid that holds too many, or keeps it whole and says so", async () => {
    const text = inOrder(50, 50, 50, 120, 50, 50, 50, 50);
    const split = await drawOne(text);
    expect([split.split, split.kept, split.grids?.map(({ kept }) => kept)]).toEqual([
      "last-grid",
      200,
      [50, 50, 50, 50],
    ]);
    // The part stands for the rest of its own grid: 270 animals in 4 of 30 grids.
    expect(split.estimatedTotal).toBe(2025);
    expect(split.fractionSorted).toBeCloseTo((3 + 50 / 120) / 30, 14);
    const whole = await drawOne(text, { lastGrid: "whole" });
    expect([whole.split, whole.kept, whole.flags]).toEqual(["none", 270, ["few-grids", "over-range"]]);
    expect(whole.findings.map(brief)).toEqual(["2:1 note over-range", "2:1 note few-grids"]);
  });

  it("draws a grid of which only animals that do not count are on the sheet, and one without any", async () => {
    const text = `${sheet(90, 90, 90, 90)}A,Actinopterygii,4,5,,\n`;
    const a = await drawOne(text, { atLeast: 8, lastGrid: "whole" });
    // Five grids are named, three more were sorted and held nothing.
    expect(a.grids?.map(({ grid }) => grid).sort()).toEqual(["", "", "", "1", "2", "3", "4", "5"]);
    expect(a.kept).toBe(360);
    expect(a.estimatedTotal).toBe(1350);
  });

  it("neither draws nor expands what the large/rare search found", async () => {
    const text = `${inOrder(50, 50, 50, 50, 50, 50, 50, 50)}A,Pteronarcys,2,,,large-rare\nA,Pteronarcys,1,31,,large-rare\n`;
    const a = await drawOne(text);
    expect([a.counted, a.kept, a.estimatedTotal]).toEqual([400, 200, 1500]);
    expect(linesOf(a).filter((line) => line.endsWith("large-rare"))).toHaveLength(1);
    expect(a.remaining.at(-1)?.count).toBe(3);
  });

  it("gives the same draw whatever the order of the rows and the batch around the sample", async () => {
    const rows = ["Zapada,30", "Simulium,20", "Physa,5"].flatMap((pile) =>
      [1, 2, 3, 4, 5, 6, 7, 8].map((grid) => `A,${pile},${grid},,`),
    );
    const others = [1, 2, 3].map((grid) => `B,Baetis,90,${grid},,`);
    const log = `${LOG}B,5x6,3\n`;
    const draw = async (lines: readonly string[]) => {
      const all = await smallDraw(`${HEAD}${lines.join("\n")}\n`, log, choices());
      const a = all.find(({ sampleId }) => sampleId === "A");
      return [
        gridsOf(a as NonNullable<typeof a>),
        a?.remaining.map(({ stage, count, grid }) => [stage, count, grid]),
      ];
    };
    const alone = await draw(rows);
    await fc.assert(
      fc.asyncProperty(
        fc.shuffledSubarray([...rows, ...others], { minLength: rows.length + 3 }),
        async (lines) => {
          expect(await draw(lines)).toEqual(alone);
        },
      ),
      { numRuns: 8 },
    );
  });

  it("keeps everything of a sample below the target, and doubts it only when a part was sorted", async () => {
    const log = (grids: number) => `sample_id,tray,grids_sorted\nA,2x2,${grids}\n`;
    const whole = await drawOne(sheet(20, 30, 10, 5), {}, log(4));
    expect([whole.status, whole.kept, whole.findings]).toEqual(["whole", 65, []]);
    const part = await drawOne(sheet(20, 30), {}, log(2));
    expect([part.status, part.flags]).toEqual(["under-target", ["under-target"]]);
    expect(part.findings.map((one) => one.message)).toEqual([
      "sample A has 50 of 200 animals and 50 percent of it was sorted",
    ]);
  });

  it("takes a fully sorted sample without animals for what it is, also without tray and grids", async () => {
    const text = "sample_id,taxon,count\nA,Zapada,0\n";
    const a = await drawOne(text, {}, "sample_id,fraction_sorted\nA,1\n");
    expect([a.status, a.kept, a.estimatedTotal, a.findings.map(brief)]).toEqual([
      "empty",
      0,
      0,
      ["2:1 note empty-sample"],
    ]);
    const sorted = await drawOne(text, {}, "sample_id,tray,grids_sorted\nA,2x2,4\n");
    expect(sorted.status).toBe("empty");
  });

  it("repeats with one stream: the first draw is the single one", async () => {
    const text = inOrder(50, 50, 50, 50, 50, 50, 50, 50);
    const once = await drawOne(text);
    const often = await smallDraw(text, LOG, choices({}, { draws: 3 }));
    expect(often.map(({ draw }) => draw)).toEqual([1, 2, 3]);
    expect(often[0]?.grids).toEqual(once.grids);
    const stream = randomStream("fixed-count-grid/1", "7", "A");
    const orders = [1, 2, 3].map(() => shuffled(8, stream).map((at) => String(at + 1)));
    expect(often.map((one) => one.grids?.map(({ grid }) => grid))).toEqual(
      orders.map((grids) => grids.slice(0, 4)),
    );
  });

  it.each([
    ["a row without a grid", `${HEAD}A,Zapada,9,1,,\nA,Simulium,3,,,\n`, LOG, "3:2 error no-grid"],
    ["a grid beyond the tray", `${HEAD}A,Zapada,9,31,,\n`, LOG, "2:2 error bad-grid"],
    ["a grid written in two ways", `${HEAD}A,Zapada,9,7,,\nA,Physa,9,07,,\n`, LOG, "3:2 error bad-grid"],
    [
      "more grids than were sorted",
      sheet(9, 9, 9),
      "sample_id,tray,grids_sorted\nA,5x6,2\n",
      "2:3 error bad-grid",
    ],
    [
      "a part of a grid sorted",
      sheet(9, 9),
      "sample_id,tray,grids_sorted\nA,5x6,2.5\n",
      "2:3 error bad-grid",
    ],
    ["grids of two trays", `${HEAD}A,Zapada,9,1,1,\nA,Physa,9,1,2,\n`, LOG, "2:1 error bad-grid"],
    ["a second tray of an unknown share", `${HEAD}A,Zapada,9,1,2,\n`, LOG, "2:3 error bad-grid"],
    ["a tray that nobody knows", sheet(9), "sample_id,grids_sorted\nA,4\n", "2:1 error no-tray"],
  ])("refuses %s", async (_, text, log, finding) => {
    const a = await drawOne(text, {}, log);
    expect([a.status, a.remaining]).toEqual(["refused", []]);
    expect(a.findings.filter((one) => one.severity === "error").map(brief)).toEqual([finding]);
  });

  it("takes the grids sorted from the share sorted, or from the sheet with a warning", async () => {
    const by = async (log: string) => drawOne(sheet(90, 90, 90), { atLeast: 30, lastGrid: "whole" }, log);
    const share = await by("sample_id,tray,fraction_sorted\nA,5x6,0.2\n");
    expect([share.grids?.length, share.flags]).toEqual([6, ["few-grids", "over-range"]]);
    const assumed = await by("sample_id,tray\nA,5x6\n");
    expect([assumed.grids?.length, assumed.flags]).toEqual([3, ["assumed-grids", "few-grids", "over-range"]]);
  });

  it("knows the share on a second tray from the share sorted of all", async () => {
    // 3 of 30 grids of the second tray, on which an eighth of the sample lay: 120 animals stand for 9600.
    const text = `${HEAD}A,Zapada,40,1,2,\nA,Zapada,40,2,2,\nA,Zapada,40,3,2,\n`;
    const log = "sample_id,tray,fraction_sorted\nA,5x6,0.0125\n";
    const a = await drawOne(text, { range: targetRange(100, fraction(1, 5)) }, log);
    expect([a.kept, a.remaining[0]?.trayLevel]).toEqual([120, "2"]);
    expect([a.fractionSorted, a.estimatedTotal]).toEqual([0.0125, 9600]);
  });

  it("uses the tray given for a sample whose log names none", async () => {
    const [a] = await smallDraw(sheet(100, 100), "sample_id,grids_sorted\nA,2\n", {
      ...choices({ atLeast: 1 }, {}, [{ rows: 2, columns: 5 }]),
    });
    expect([a?.status, a?.estimatedTotal]).toEqual(["whole", 1000]);
  });
});
