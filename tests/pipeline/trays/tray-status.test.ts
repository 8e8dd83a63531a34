import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../../src/files/input.ts";
import { FindingCollector } from "../../../src/findings/collector.ts";
import { fraction } from "../../../src/model/exact.ts";
import type { TrayChoices } from "../../../src/pipeline/trays/plan-trays.ts";
import { STATUS_COLUMNS, stageRows, statusRow } from "../../../src/pipeline/trays/status-tables.ts";
import { trayStatus } from "../../../src/pipeline/trays/tray-status.ts";
import { readPickLog } from "../../../src/sheets/pick-log.ts";
import { sampleTrays } from "../../../src/subsample/sample-trays.ts";
import { brief } from "../../helpers/reading.ts";
import { smallLog, TRAY_CHOICES } from "../../helpers/small-draw.ts";

const LOG = "sample_id,site_id,tray,area_sampled_m2\nVN-01,V1,5x6,0.5\n";
const trays = sampleTrays([{ rows: 5, columns: 6 }], "7", "VN-01");
const order = trays.orderOf(1);
const second = trays.orderOf(2);

/** Rows of a pick log: a level, its grids in the order of picking, and what was found in them. */
const picked = (level: number, grids: readonly number[], ...counts: (number | string)[]): string[] =>
  counts.map((count, at) => `VN-01,${level},${grids[at]},${count},`);

async function statusOf(rows: readonly string[], choices: Partial<TrayChoices> = {}, logText = LOG) {
  const { log } = await smallLog(logText);
  const text = `sample_id,level,grid,picked,portion\n${rows.join("\n")}\n`;
  const found = new FindingCollector();
  const picks = await readPickLog(inputFromBytes("picks.csv", text), {}, found);
  const all = [...trayStatus(log, picks, { ...TRAY_CHOICES, ...choices })];
  const findings = [...found.all, ...all.flatMap((one) => one.findings)];
  return { all: all.map((one) => one.status), first: all[0]?.status, findings };
}

describe("the status of a tray", () => {
  it("names the next grid while the least number of grids is not reached", async () => {
    const { first } = await statusOf(picked(1, order, 90, 90));
    expect([first?.state, first?.progress?.next]).toEqual([
      "go-on",
      { kind: "pick-grid", level: 1, grid: order[2], because: "grids" },
    ]);
    expect(first?.instruction).toBe(`pick grid ${order[2]}: 2 of at least 4 grids are done`);
  });

  it("finishes four grids with 170 animals at the lower end and not at the target", async () => {
    const rows = picked(1, order, 40, 40, 45, 45);
    const lower = await statusOf(rows);
    expect([lower.first?.state, lower.first?.instruction]).toEqual([
      "stop",
      "stop: 170 animals, 160 to 240 are asked for",
    ]);
    const target = await statusOf(rows, { stopAt: "target" });
    expect([target.first?.state, target.first?.instruction]).toEqual([
      "go-on",
      `pick grid ${order[4]}: 30 more animals are wanted`,
    ]);
  });

  it("says that the last grid is spread and split, with the order of its parts", async () => {
    const { first } = await statusOf(picked(1, order, 50, 50, 50, 100));
    expect(first?.state).toBe("split-last-grid");
    expect(first?.instruction).toMatch(
      new RegExp(`^put the animals of grid ${order[3]} back, .* until 10 to 90 animals are found; .* k/30,`),
    );
    expect(first?.parts).toEqual(trays.orderOfParts(1, order[3] ?? 0, { rows: 5, columns: 6 }));
  });

  it("goes on with the parts that are left, and leaves out those that were picked", async () => {
    const split = [...picked(1, order, 50, 50, 50), `VN-01,1,${order[3]},8,3/30`];
    const { first } = await statusOf(split);
    const parts = trays.orderOfParts(1, order[3] ?? 0, { rows: 5, columns: 6 });
    expect([first?.state, first?.parts]).toEqual(["go-on", parts.slice(3)]);
    // A share that is no number of parts of this tray leaves open which were picked.
    const odd = [...picked(1, order, 50, 50, 50), `VN-01,1,${order[3]},8,0.07`];
    expect((await statusOf(odd)).first?.parts).toBe(undefined);
  });

  it("keeps a last grid whole where that is the rule, and says that the count is over the range", async () => {
    const { first, findings } = await statusOf(picked(1, order, 50, 50, 50, 100), { lastGrid: "whole" });
    expect([first?.state, first?.flags]).toEqual(["stop", ["few-grids", "over-range"]]);
    expect(findings.map(brief).filter((one) => one.includes("over-range"))).toEqual(["5:3 note over-range"]);
  });

  it("sends grids that are too dense to a second tray", async () => {
    const { first } = await statusOf(picked(1, order, 100, 90, 80, 70));
    expect(first?.state).toBe("next-tray");
    expect(first?.instruction).toContain(
      `contents of grids ${order.slice(0, 4).join(", ")} together on tray 2`,
    );
  });

  it("builds share and total stage by stage: 195 in 8 of 30, 12 in 10 of 30 of a ninth, first tray 4 of 30", async () => {
    const rows = [
      ...picked(1, order, "", "", "", ""),
      ...picked(2, second, 25, 25, 25, 24, 24, 24, 24, 24),
      `VN-01,2,${second[8]},12,10/30`,
    ];
    const { first, findings } = await statusOf(rows);
    expect([first?.state, first?.progress?.animals]).toEqual(["stop", 207]);
    if (first === undefined) throw new Error("no status");
    // Second tray: (195 + 12 x 3) x 30 / 9 = 770 animals, of which 8 1/3 of 30 grids were looked at.
    // First tray: 770 x 30 / 4 = 5775; the plain fraction would give 207 / (25/90 x 4/30) = 5589.
    const cells = stageRows(first);
    expect(cells.map((row) => row.slice(1, 9))).toEqual([
      [1, 30, 0, 0, "", null, "", 4],
      [2, 30, 8, 195, String(second[8]), 12, "1/3", 0],
    ]);
    expect(cells.map((row) => row[10])).toEqual([5775, 770]);
    expect(cells[0]?.[9]).toBeCloseTo((25 / 90) * (4 / 30), 14);
    expect(cells[1]?.[9]).toBeCloseTo(25 / 90, 14);
    expect(first.individualsPerM2).toBe(11_550);
    expect(findings.map((one) => one.message)).toEqual([
      "the estimated total of VN-01, 5775, rests on 4 of 30 grids and 9 of 30 grids",
    ]);
  });

  it("says when everything is sorted: enough, below the target, or no animal at all", async () => {
    const log = "sample_id,tray\nVN-01,2x2\n";
    const four = sampleTrays([{ rows: 2, columns: 2 }], "7", "VN-01").orderOf(1);
    const at = async (each: number, choices: Partial<TrayChoices> = {}) => {
      const { first, findings } = await statusOf(picked(1, four, each, each, each, each), choices, log);
      return [first?.state, first?.flags, findings.length];
    };
    expect(await at(20)).toEqual(["below-target", [], 0]);
    expect(await at(45, { stopAt: "target" })).toEqual(["all-sorted", [], 0]);
    expect(await at(0)).toEqual(["empty", ["empty-sample"], 1]);
  });

  it("does not warn of a total that rests on a quarter of the tray or on all of it", async () => {
    const quarter = await statusOf(picked(1, order, 20, 20, 20, 20, 20, 20, 20, 20));
    expect([quarter.first?.state, quarter.first?.flags]).toEqual(["stop", []]);
    const seven = await statusOf(picked(1, order, 20, 20, 20, 20, 20, 20, 40));
    expect(seven.first?.flags).toEqual(["few-grids"]);
  });

  it.each([
    ["a grid twice", [...picked(1, order, 9), ...picked(1, order, 8)], "3:3 error bad-pick"],
    ["a grid beyond the tray", ["VN-01,1,31,5,"], "2:3 error bad-pick"],
    ["a level without the one before", picked(2, second, 5), "2:3 error bad-pick"],
    [
      "a second tray and no grid moved to it",
      [...picked(1, order, 20, 30), ...picked(2, second, 5)],
      "4:3 error bad-pick",
    ],
    ["an animal count that is no number", ["VN-01,1,3,many,"], "2:4 error bad-count"],
  ])("refuses a sample with %s and goes on with the others", async (_, rows, finding) => {
    const log = "sample_id,tray\nVN-01,5x6\nVN-02,5x6\n";
    const { all, findings } = await statusOf(rows, {}, log);
    expect(all.map(({ state }) => state)).toEqual(["refused", "go-on"]);
    expect(findings.map(brief)).toEqual([finding]);
  });

  it("points at a grid that was picked out of turn and one that was split too early", async () => {
    const out = await statusOf([`VN-01,1,${order[5]},9,`]);
    expect(out.findings.map(brief)).toEqual(["2:3 warning out-of-order"]);
    expect(out.first?.flags).toEqual(["out-of-order"]);
    const early = await statusOf([`VN-01,1,${order[0]},9,1/2`, ...picked(1, order, "", 7).slice(1)]);
    expect(early.findings.map(brief)).toEqual(["2:3 warning split-before-last"]);
  });

  it("lists every sample of the log, then those that only the pick log knows", async () => {
    const rows = ["VN-09,1,3,5,", ...picked(1, order, 50)];
    const { all, findings } = await statusOf(rows, { trays: [{ rows: 5, columns: 6 }] });
    expect(all.map(({ sampleId, siteId }) => [sampleId, siteId])).toEqual([
      ["VN-01", "V1"],
      ["VN-09", ""],
    ]);
    expect(findings.map(brief)).toContain("2:3 warning not-in-log");
    const without = await statusOf(rows);
    expect(without.all[1]?.state).toBe("refused");
    expect(without.findings.map(brief)).toContain("2:3 error no-tray");
  });
});

describe("the row of a sample at the tray", () => {
  const cellsOf = async (rows: readonly string[], choices: Partial<TrayChoices> = {}, log = LOG) => {
    const { first } = await statusOf(rows, choices, log);
    if (first === undefined) throw new Error("no status");
    return Object.fromEntries(STATUS_COLUMNS.map(({ name }, at) => [name, statusRow(first)[at]]));
  };

  it("has the next grid, what is there and what is missing, and the estimate so far", async () => {
    // 60 animals in 2 of 30 grids: 900 on the tray, of half a square metre 1800.
    expect(await cellsOf(picked(1, order, 30, 30))).toEqual({
      sample_id: "VN-01",
      site_id: "V1",
      state: "go-on",
      level: 1,
      next_grid: order[2],
      animals: 60,
      missing: 100,
      grids_picked: 2,
      grids_on_tray: 30,
      fraction_sorted: expect.closeTo(2 / 30, 12),
      estimated_total: 900,
      individuals_per_m2: 1800,
      instruction: `pick grid ${order[2]}: 2 of at least 4 grids are done`,
      parts: "",
      flags: "",
    });
  });

  it("has no density without an area, and no next grid when all is done", async () => {
    const log = "sample_id,site_id,tray\nVN-01,V1,5x6\n";
    expect(await cellsOf(picked(1, order, 50, 50, 50, 50), {}, log)).toMatchObject({
      state: "stop",
      level: null,
      next_grid: null,
      missing: 0,
      individuals_per_m2: null,
      flags: "few-grids",
    });
  });

  it("has no numbers where the pick log is wrong, or the log has no tray", async () => {
    const none = {
      level: null,
      next_grid: null,
      animals: null,
      missing: null,
      grids_picked: null,
      grids_on_tray: null,
    };
    const empty = {
      ...none,
      fraction_sorted: null,
      estimated_total: null,
      individuals_per_m2: null,
      parts: "",
    };
    expect(await cellsOf([...picked(1, order, 9), ...picked(1, order, 8)])).toMatchObject({
      state: "refused",
      flags: "bad-pick",
      instruction: "correct its rows of the pick log first",
      ...empty,
    });
    const untold = await statusOf(picked(1, order, 9), {}, "sample_id,site_id\nVN-01,V1\n");
    expect(untold.first?.state).toBe("refused");
    if (untold.first !== undefined) expect(stageRows(untold.first)).toEqual([]);
  });

  it("lists the parts of a split grid in the order in which they are picked", async () => {
    const parts = trays.orderOfParts(1, order[3] ?? 0, { rows: 5, columns: 6 });
    expect(await cellsOf(picked(1, order, 50, 50, 50, 100))).toMatchObject({
      parts: parts.join(";"),
      level: 1,
    });
  });
});

describe("the next step in words", () => {
  const instruction = async (rows: readonly string[], choices: Partial<TrayChoices> = {}, log = LOG) =>
    (await statusOf(rows, choices, log)).first?.instruction;

  it("says one animal for one", async () => {
    expect(await instruction(picked(1, order, 40, 40, 40, 39))).toBe(
      `pick grid ${order[4]}: 1 more animal is wanted`,
    );
    const part = [...picked(1, order, 50, 50, 50), `VN-01,1,${order[3]},9,3/30`];
    expect(await instruction(part)).toBe(
      `pick a further part of grid ${order[3]}: 1 more animal is wanted; then write all animals of the grid and the share picked (so far 1/10)`,
    );
  });

  it("names the tray on the second one, where fewer grids than usual are enough", async () => {
    const moved = picked(1, order, "", "", "", "");
    expect(await instruction([...moved, ...picked(2, second, 30)])).toMatch(
      new RegExp(`^pick grid ${second[1]} of tray 2: `),
    );
    const split = [...moved, ...picked(2, second, 50, 50, 50), `VN-01,2,${second[3]},8,3/30`];
    expect(await instruction(split)).toMatch(
      new RegExp(`^pick a further part of grid ${second[3]} of tray 2: `),
    );
  });

  it("asks for a single number of animals where the target has no range", async () => {
    expect(await instruction(picked(1, order, 50, 50, 50, 100), { within: fraction(0) })).toContain(
      "until 50 animals are found",
    );
  });

  it("asks for no more grids than the tray has", async () => {
    const log = "sample_id,tray\nVN-01,1x2\n";
    const two = sampleTrays([{ rows: 1, columns: 2 }], "7", "VN-01").orderOf(1);
    expect(await instruction(picked(1, two, 200), {}, log)).toBe(
      `pick grid ${two[1]}: 1 of at least 2 grids are done`,
    );
  });
});
