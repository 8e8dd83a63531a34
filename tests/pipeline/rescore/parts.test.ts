import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { AttributeTable } from "../../../src/model/attributes.ts";
import { add, equalExact, fraction, subtract, ZERO } from "../../../src/model/exact.ts";
import { openRun } from "../../../src/pipeline/open-run.ts";
import { compareSides } from "../../../src/pipeline/rescore/compare.ts";
import { CHANGE_KINDS } from "../../../src/pipeline/rescore/kinds.ts";
import type { Side } from "../../../src/pipeline/rescore/side.ts";
import { sideOf } from "../../../src/pipeline/rescore/side.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import type { ReferenceSet } from "../../../src/reference/set.ts";
import { amendRows } from "../../../src/runs/amend-rows.ts";
import { smallLab } from "../../helpers/small-lab.ts";

const SHEET = `sample_id,taxon,count
A,Baetis,40
A,Ephemerella,7
A,Leuctra,12
A,Chironomidae,30
A,Gammarus,3
B,Baetis,5
B,Chironomidae,60
B,Hydropsyche,9
C,Leuctra,2
`;

let before: Side;
beforeAll(async () => {
  const lab = smallLab();
  writeFileSync(join(lab, "sheet.csv"), SHEET);
  await scoreSamples({ sheets: ["sheet.csv"], reference: "./small-set", cwd: lab, run: "run" });
  before = sideOf(await openRun("run", lab));
});

const half = fc.integer({ min: 0, max: 20 }).map((value) => String(value / 2));
/** A random change of every part of a set, and of the rows; each part is left alone half of the time. */
const changes = fc.record({
  tolerance: fc.option(
    fc.dictionary(fc.constantFrom("Baetis", "Leuctra", "Chironomidae", "Hydropsyche"), half),
  ),
  ends: fc.option(fc.tuple(fc.integer({ min: 1, max: 20 }), fc.integer({ min: 1, max: 20 }))),
  rank: fc.option(fc.constantFrom("family" as const, "order" as const)),
  method: fc.option(fc.constantFrom("mean" as const, "weighted-mean" as const)),
  weight: fc.option(fc.integer({ min: 2, max: 5 })),
  target: fc.option(fc.integer({ min: 5, max: 60 })),
  roundTo: fc.option(fc.integer({ min: 0, max: 3 })),
  correction: fc.option(fc.integer({ min: 0, max: 80 })),
});
type Changes = typeof changes extends fc.Arbitrary<infer Value> ? Value : never;

function changedSet(set: ReferenceSet, changed: Changes): ReferenceSet {
  const { definition } = set;
  const table = set.attributes.get("tolerance");
  const values = new Map(table?.values);
  for (const [taxon, text] of Object.entries(changed.tolerance ?? {}))
    values.set(taxon, { text, sourceId: "", verified: "set" });
  const attributes = new Map(set.attributes);
  if (table !== undefined) attributes.set("tolerance", { ...table, values } satisfies AttributeTable);
  const segments = new Map(set.segments);
  for (const [at, [metric, byStratum]] of [...segments].entries()) {
    const end = changed.ends?.[at];
    if (end === undefined) continue;
    const moved = (byStratum.get("all") ?? []).map((one) => ({
      ...one,
      upper: { at: fraction(end), included: true },
    }));
    segments.set(metric, new Map([["all", moved]]));
  }
  const { index, level } = definition;
  return {
    ...set,
    attributes,
    segments,
    definition: {
      ...definition,
      level: changed.rank === null ? level : { ...level, rank: changed.rank },
      index: {
        ...index,
        method: changed.method ?? index.method,
        round_to: changed.roundTo ?? undefined,
      },
      count_rule: { ...definition.count_rule, target: changed.target },
      metrics: definition.metrics.map((use, at) =>
        at === 0 && changed.weight !== null ? { ...use, weight: changed.weight } : use,
      ),
    },
  };
}

function changedSide(changed: Changes): Side {
  const amendments =
    changed.correction === null
      ? []
      : [
          {
            sampleId: "A",
            taxon: "Baetis",
            oldCount: 40,
            newCount: changed.correction,
            reason: "re-check",
            by: "",
            on: "",
            place: { file: "amend.csv", line: 2, column: 4 },
          },
        ];
  const { table } = amendRows(before.rows.table, amendments);
  return { ...before, rows: { ...before.rows, table }, amendments, set: changedSet(before.set, changed) };
}

describe("the parts of a change over random changes to a set", () => {
  it("add up to the change exactly, and are 0 for kinds that do not differ", () => {
    fc.assert(
      fc.property(changes, (changed) => {
        const comparison = compareSides(before, changedSide(changed));
        if ("problem" in comparison) throw new Error(comparison.problem);
        for (const sample of comparison.samples) {
          const { causes, change } = sample;
          if (causes === undefined || change === undefined) {
            expect(sample.notAttributable).not.toBe("");
            continue;
          }
          const sum = CHANGE_KINDS.reduce((total, kind) => add(total, causes[kind]), ZERO);
          expect(equalExact(sum, change)).toBe(true);
          for (const kind of CHANGE_KINDS)
            if (!comparison.kinds.includes(kind)) expect(causes[kind]).toEqual(ZERO);
        }
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  it("find the kinds that were changed, and no other", () => {
    const none: Changes = {
      tolerance: null,
      ends: null,
      rank: null,
      method: null,
      weight: null,
      target: null,
      roundTo: null,
      correction: null,
    };
    const kindsOf = (changed: Partial<Changes>) => {
      const comparison = compareSides(before, changedSide({ ...none, ...changed }));
      return "problem" in comparison ? comparison.problem : comparison.kinds;
    };
    expect(kindsOf({})).toEqual([]);
    expect(kindsOf({ tolerance: { Baetis: "9" } })).toEqual(["attributes"]);
    expect(kindsOf({ tolerance: { Baetis: "5" } })).toEqual([]);
    const table = before.set.attributes.get("tolerance") as AttributeTable;
    const ofTable = (other: Partial<AttributeTable>) => {
      const attributes = new Map(before.set.attributes).set("tolerance", { ...table, ...other });
      const comparison = compareSides(before, { ...before, set: { ...before.set, attributes } });
      return "problem" in comparison ? comparison.problem : comparison.kinds;
    };
    // Another order of the values says nothing else; a value more or less, or a taxon scored as another one, does.
    expect(ofTable({ values: new Map([...table.values].reverse()) })).toEqual([]);
    expect(ofTable({ values: new Map([...table.values].slice(1)) })).toEqual(["attributes"]);
    expect(ofTable({ scoreAs: new Map([["Baetis", "Rhyacophila"]]) })).toEqual(["attributes"]);
    const direction =
      table.scheme.direction === "higher-is-tolerant" ? "higher-is-sensitive" : "higher-is-tolerant";
    expect(ofTable({ scheme: { ...table.scheme, direction } })).toEqual(["attributes"]);
    expect(kindsOf({ ends: [10, 10] })).toEqual([]);
    expect(kindsOf({ ends: [9, 10] })).toEqual(["metrics"]);
    expect(kindsOf({ rank: "family" })).toEqual(["names"]);
    expect(kindsOf({ method: "mean" })).toEqual(["rules"]);
    expect(kindsOf({ weight: 3 })).toEqual(["rules"]);
    expect(kindsOf({ target: 20 })).toEqual(["rules"]);
    expect(kindsOf({ correction: 50 })).toEqual(["counts"]);
    expect(
      kindsOf({ correction: 50, target: 20, ends: [9, 10], rank: "order", tolerance: { Baetis: "1" } }),
    ).toEqual(CHANGE_KINDS);
  });

  it("compare what the run was scored as with what the second side is scored as by itself", () => {
    const after = changedSide({
      tolerance: { Baetis: "9" },
      ends: [8, 12],
      rank: "family",
      method: "mean",
      weight: null,
      target: 30,
      roundTo: 2,
      correction: 60,
    });
    const comparison = compareSides(before, after);
    if ("problem" in comparison) throw new Error(comparison.problem);
    for (const { before: first, after: second, change } of comparison.samples) {
      expect(first.index).not.toBeUndefined();
      if (first.index === undefined || second.index === undefined) continue;
      expect(equalExact(change ?? fraction(1), subtract(second.index, first.index))).toBe(true);
    }
  });
});
