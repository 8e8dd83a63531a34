import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawIndividuals } from "../../src/subsample/draw-individuals.ts";
import { applyCountRule, repeatedCountRule } from "../../src/subsample/fixed-count.ts";
import { randomStream } from "../../src/subsample/stream.ts";

const base = { target: 200, fractionSorted: undefined, seed: "1", sampleId: "VN-01" } as const;

describe("the count rule", () => {
  it("leaves exactly the target of a larger sample, drawn with the stream of its sample id", () => {
    const counts = [150, 80, 40, 30];
    const outcome = applyCountRule({ ...base, counts, fractionSorted: 0.5 });
    expect(outcome).toEqual({
      status: "drawn",
      left: drawIndividuals(counts, 200, randomStream("fixed-count-individual/1", "1", "VN-01")),
      total: 300,
      kept: 200,
      estimatedTotal: 600,
      algorithm: "fixed-count-individual/1",
    });
  });

  it("repeats with one stream, and the first of many is the single one", () => {
    const input = { ...base, counts: [150, 80, 40, 30] };
    const stream = randomStream("fixed-count-individual/1", "1", "VN-01");
    const expected = [1, 2, 3].map(() => drawIndividuals(input.counts, 200, stream));
    const next = repeatedCountRule(input);
    const often = [next(), next(), next()];
    expect(often.map(({ left }) => left)).toEqual(expected);
    expect(often[0]).toEqual(applyCountRule(input));
    const small = { ...base, counts: [3, 2], fractionSorted: 1 };
    const same = repeatedCountRule(small);
    expect([same(), same()]).toEqual([applyCountRule(small), applyCountRule(small)]);
  });

  it.each([
    { why: "the target is met exactly", counts: [120, 80], fractionSorted: 0.1, status: "whole" },
    { why: "all of a small sample was sorted", counts: [50, 46], fractionSorted: 1, status: "whole" },
    {
      why: "one animal is missing and a part was sorted",
      counts: [120, 79],
      fractionSorted: 0.9,
      status: "under-target",
    },
    {
      why: "it is not known how much was sorted",
      counts: [96],
      fractionSorted: undefined,
      status: "under-target",
    },
    { why: "all was sorted and nothing found", counts: [0, 0], fractionSorted: 1, status: "empty" },
    { why: "all was sorted and the sheet has no pile", counts: [], fractionSorted: 1, status: "empty" },
    { why: "a part was sorted and nothing found", counts: [], fractionSorted: 0.25, status: "under-target" },
  ])("keeps everything and says $status where $why", ({ counts, fractionSorted, status }) => {
    const outcome = applyCountRule({ ...base, counts, fractionSorted });
    expect(outcome.status).toBe(status);
    expect(outcome.left).toEqual(counts);
    expect(outcome.kept).toBe(outcome.total);
    expect(outcome.algorithm).toBe("fixed-count-individual/1");
  });

  it("draws nothing without a target", () => {
    const outcome = applyCountRule({ ...base, counts: [5000], target: undefined });
    expect([outcome.status, outcome.left, outcome.estimatedTotal]).toEqual(["whole", [5000], undefined]);
    expect(applyCountRule({ ...base, counts: [], target: undefined, fractionSorted: 1 }).status).toBe(
      "empty",
    );
  });

  it("takes a lower limit where the target has a tolerance", () => {
    const rule = { ...base, fractionSorted: 0.2, lowerLimit: 160 };
    expect(applyCountRule({ ...rule, counts: [160] }).status).toBe("whole");
    expect(applyCountRule({ ...rule, counts: [159] }).status).toBe("under-target");
    expect(applyCountRule({ ...rule, counts: [201] }).kept).toBe(200);
  });

  // Barbour MT et al. 1999, EPA 841-B-99-002, chapter 7: 200 within 20 percent is 160 to 240, both ends inside.
  it("keeps a count up to the upper limit as it is and draws a larger one to the target", () => {
    const rule = { ...base, fractionSorted: 0.2, lowerLimit: 160, upperLimit: 240 };
    const outcome = (count: number) => {
      const { status, kept } = applyCountRule({ ...rule, counts: [count] });
      return [status, kept];
    };
    expect(outcome(200)).toEqual(["whole", 200]);
    expect(outcome(201)).toEqual(["whole", 201]);
    expect(outcome(240)).toEqual(["whole", 240]);
    expect(outcome(241)).toEqual(["drawn", 200]);
    expect(outcome(159)).toEqual(["under-target", 159]);
  });

  it("draws each sample of a batch as if it were alone", () => {
    const sample = fc.tuple(fc.string(), fc.array(fc.integer({ min: 0, max: 90 }), { maxLength: 12 }));
    fc.assert(
      fc.property(fc.uniqueArray(sample, { selector: ([id]) => id, maxLength: 10 }), (batch) => {
        const draw = ([sampleId, counts]: [string, number[]]) =>
          applyCountRule({ ...base, target: 100, counts, sampleId });
        const together = batch.map(draw);
        const backwards = [...batch].reverse().map(draw).reverse();
        expect(backwards).toEqual(together);
        for (const [at, one] of batch.entries()) expect(draw(one)).toEqual(together[at]);
      }),
      { seed: 9 },
    );
  });

  it("draws otherwise with another seed or sample id", () => {
    const counts = [150, 80, 40, 30, 20, 10];
    const drawn = applyCountRule({ ...base, counts }).left;
    expect(applyCountRule({ ...base, counts, seed: "2" }).left).not.toEqual(drawn);
    expect(applyCountRule({ ...base, counts, sampleId: "VN-02" }).left).not.toEqual(drawn);
  });

  it("can be asked for a version by its id", () => {
    const counts = [150, 80, 40, 30];
    const asked = applyCountRule({ ...base, counts, algorithm: "fixed-count-individual/1" });
    expect(asked).toEqual(applyCountRule({ ...base, counts }));
    expect(() => applyCountRule({ ...base, counts, algorithm: "fixed-count-grid/1" })).toThrow(
      "no algorithm of this kind is called fixed-count-grid/1; there is fixed-count-individual/1",
    );
  });

  it.each([
    { counts: [1.5] },
    { counts: [-1] },
    { counts: [1], target: 0 },
    { counts: [1], target: 2.5 },
    { counts: [1], fractionSorted: 0 },
    { counts: [1], fractionSorted: 1.01 },
    { counts: [1], fractionSorted: Number.NaN },
  ])("refuses %j", (wrong) => {
    expect(() => applyCountRule({ ...base, ...wrong })).toThrow(RangeError);
  });
});
