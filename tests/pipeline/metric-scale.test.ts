import { describe, expect, it } from "vitest";
import { exactOf } from "../../src/model/exact.ts";
import { exactValue } from "../../src/model/metric-value.ts";
import type { Segment } from "../../src/model/segment.ts";
import { metricScale } from "../../src/pipeline/metric-scale.ts";
import type { MetricStep } from "../../src/pipeline/score-values.ts";
import { facts, shippedSet } from "../helpers/sets.ts";

const set = await shippedSet("vennaloo-demo");
const id = set.definition.metrics[0]?.id ?? "";
const limit = (at: number, slope?: number) => ({
  at: exactOf(at),
  included: true,
  ...(slope === undefined ? {} : { slope: exactOf(slope) }),
});
const segment = (over: Partial<Segment> = {}): Segment => ({
  lower: limit(8),
  upper: limit(34),
  scoreAtLower: exactOf(0),
  scoreAtUpper: exactOf(10),
  basis: "value",
  note: "",
  line: 2,
  ...over,
});
const step = (segments: readonly Segment[], over: Partial<MetricStep> = {}): MetricStep => ({
  raw: exactValue(exactOf(26)),
  scored: exactValue(exactOf(26)),
  reference: undefined,
  segments,
  outcome: undefined,
  ...over,
});

describe("the thresholds of a metric for one sample", () => {
  it("are its limits with their scores, and the value", () => {
    expect(metricScale(set, id, step([segment()]), undefined)).toEqual({
      steps: [{ lower: 8, upper: 34, scoreAtLower: 0, scoreAtUpper: 10 }],
      at: 26,
      what: "",
      worst: 0,
      best: 10,
    });
  });

  it("are moved by the covariate, and not drawn without it", () => {
    const moved = segment({ lower: limit(8, 0.01), upper: limit(34, 0.02), covariate: "altitude_m" });
    expect(metricScale(set, id, step([moved]), facts({ altitude_m: "100" }))?.steps).toEqual([
      { lower: 9, upper: 36, scoreAtLower: 0, scoreAtUpper: 10 },
    ]);
    expect(metricScale(set, id, step([moved]), undefined)).toBe(undefined);
  });

  it("are compared with the percentage of the reference sample where the set says so", () => {
    const share = segment({ basis: "percent-of-reference" });
    const compared = step([share], { reference: exactValue(exactOf(52)) });
    expect(metricScale(set, id, compared, undefined)).toMatchObject({
      at: 50,
      what: "percent of the reference sample",
    });
    expect(metricScale(set, id, step([share]), undefined)?.at).toBe(undefined);
  });

  it("turn best and worst where a low index is the good one", () => {
    const { definition } = set;
    const low = {
      ...set,
      definition: { ...definition, index: { ...definition.index, higher_is: "worse" as const } },
    };
    expect(metricScale(low, id, step([segment()]), undefined)).toMatchObject({ worst: 10, best: 0 });
  });

  it("are none where the metric counts as it is", () => {
    expect(metricScale(set, id, step([]), undefined)).toBe(undefined);
  });
});
