import { describe, expect, it } from "vitest";
import type { MetricEntry, MetricExample } from "../../src/metrics/define.ts";
import { closestMetrics, findMetric, METRICS, metricOf } from "../../src/metrics/registry.ts";
import type { Community, SampleContext } from "../../src/model/community.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import { EMPTY, exampleOf } from "../helpers/metrics/build.ts";
import { randomCommunities, shuffled, withZeroRows } from "../helpers/metrics/random-communities.ts";

/** A metric's first example decides the settings and the surroundings in which its laws are tested. */
function first(entry: MetricEntry): MetricExample {
  const example = entry.examples[0];
  if (example === undefined) throw new Error(`${entry.id} has no example`);
  return example;
}

const prepared = new Map<string, ReturnType<typeof exampleOf>>();

function firstReady(entry: MetricEntry): ReturnType<typeof exampleOf> {
  const made = prepared.get(entry.id) ?? exampleOf(entry, first(entry));
  prepared.set(entry.id, made);
  return made;
}

function evaluate(entry: MetricEntry, community: Community, multiply = 1): number | undefined {
  const { metric, context } = firstReady(entry);
  return valueAsNumber(
    metric.evaluate(multiplied(community, multiply), multipliedContext(context, multiply)),
  );
}

function multiplied(community: Community, by: number): Community {
  return { ...community, counts: community.counts.map((n) => n * by), total: community.total * by };
}

/** A sample with more animals of every taxon is compared with a reference sample that has more as well. */
function multipliedContext(context: SampleContext, by: number): SampleContext {
  return {
    ...context,
    estimatedTotal: context.estimatedTotal === undefined ? undefined : context.estimatedTotal * by,
    reference: context.reference === undefined ? undefined : multiplied(context.reference, by),
  };
}

const RANDOM = randomCommunities(200, "laws of the registry");

describe("the catalogue", () => {
  it("has every id once, in lower case words joined by underscores", () => {
    const ids = METRICS.map((entry) => entry.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of ids) expect(id).toMatch(/^[a-z][a-z0-9]*(_[a-z0-9]+)*$/);
  });

  it("finds an entry by its id and nothing by another name", () => {
    expect(findMetric("ept_richness")?.name).toBe("EPT taxa");
    expect(findMetric("EPT taxa")).toBe(undefined);
    expect(findMetric("__proto__")).toBe(undefined);
  });

  it("names the closest ids: other names, slips of the keyboard, words", () => {
    expect(closestMetrics("ept_taxa")[0]).toBe("ept_richness");
    expect(closestMetrics("HBI")[0]).toBe("tolerance_index");
    expect(closestMetrics("taxa_richnes")[0]).toBe("taxa_richness");
    expect(closestMetrics("predominant")[0]).toBe("berger_parker_dominance");
    expect(closestMetrics("zzzzzzzzzz")).toEqual([]);
    expect(closestMetrics("")).toEqual([]);
    // A name that the entry goes by, exactly and whatever its spelling.
    expect(closestMetrics("  Riffle-beetle TAXA!")).toEqual(["elmidae_richness"]);
    expect(closestMetrics("riffle - beetle - taxa")).toEqual(["elmidae_richness"]);
    expect(closestMetrics("EPT / (EPT + Chironomidae)")[0]).toBe("ept_share_of_ept_and_chironomidae");
    // All words of several, in any order; one of them alone is not enough.
    expect(closestMetrics("chironomidae ratio")).toEqual([
      "ept_to_chironomidae_ratio",
      "ept_share_of_ept_and_chironomidae",
    ]);
    expect(closestMetrics("chironomidae sandwich")).toEqual([]);
    // A single word that is close to a word of ids, three at most; short words of ids are close to too much.
    expect(closestMetrics("dominence")).toEqual([
      "percent_dominant_taxon",
      "percent_two_dominant_taxa",
      "percent_three_dominant_taxa",
    ]);
    expect(closestMetrics("dominence ept")).toEqual([]);
    expect(closestMetrics("rich")).toEqual([]);
    expect(closestMetrics("even")).toEqual([]);
  });
});

describe.each(METRICS.map((entry) => [entry.id, entry] as const))("%s", (_id, entry) => {
  it("tells everything about itself", () => {
    const texts = [entry.name, entry.summary, entry.formula, entry.unit];
    for (const text of texts) expect(text.trim(), text).toMatch(/\S{1,}/);
    expect(entry.summary).toMatch(/[.)]$/);
    expect(entry.range[0]).toBeLessThan(entry.range[1]);
    expect(entry.references.length).toBeGreaterThanOrEqual(1);
    for (const { citation, year } of entry.references) {
      expect(citation).toContain(String(year));
    }
    for (const [name, setting] of Object.entries(entry.settings.shape)) {
      expect(name).toMatch(/^[a-z][a-z0-9]*(_[a-z0-9]+)*$/);
      expect(setting.meta(), name).toMatchObject({
        description: expect.stringMatching(/\S/),
        takes: expect.stringMatching(/\S/),
      });
    }
  });

  it("has two worked values or more, and they come out", () => {
    expect(entry.examples.filter(({ value }) => value !== null).length).toBeGreaterThanOrEqual(2);
    for (const example of entry.examples) {
      const { metric, community, context } = exampleOf(entry, example);
      const value = valueAsNumber(metric.evaluate(community, context));
      if (example.value === null) expect(value, example.working).toBe(undefined);
      else
        expect(Math.abs((value ?? Number.NaN) - example.value), example.working).toBeLessThanOrEqual(
          1e-12 * Math.max(1, Math.abs(example.value)),
        );
    }
  });

  it("shows arithmetic that ends with the value", () => {
    for (const { value, working } of entry.examples) {
      if (value === null) {
        expect(working).toMatch(/\S/);
        continue;
      }
      const match = /= (-?\d+(?:\.(\d+))?)$/.exec(working);
      expect(match, working).not.toBe(null);
      const decimals = match?.[2]?.length ?? 0;
      expect(Math.abs(Number(match?.[1]) - value), working).toBeLessThanOrEqual(0.5000001 * 10 ** -decimals);
    }
  });

  it("gives of a sample without animals what it says", () => {
    const { metric, context } = firstReady(entry);
    const value = metric.evaluate(EMPTY, context);
    if (entry.whenEmpty === "zero") expect(valueAsNumber(value)).toBe(0);
    else expect(value).toMatchObject({ kind: "missing", why: expect.stringMatching(/\S/) });
    const withoutContext = metric.evaluate(EMPTY, {});
    if (withoutContext.kind === "missing") expect(withoutContext.why).toMatch(/\S/);
  });

  it("is finite and within its range on random samples, or missing with a reason", () => {
    const { metric, context } = firstReady(entry);
    const [least, most] = entry.range;
    let present = 0;
    for (const community of RANDOM) {
      const value = metric.evaluate(community, context);
      if (value.kind === "missing") {
        expect(value.why).toMatch(/\S/);
        continue;
      }
      present++;
      const number = valueAsNumber(value) ?? Number.NaN;
      expect(number).toBeGreaterThanOrEqual(least - 1e-12);
      expect(number).toBeLessThanOrEqual(most + 1e-9);
    }
    expect(present).toBeGreaterThan(100);
  });

  it("does not care about the order of taxa, nor about rows without animals and taxa, and changes no input", () => {
    for (const community of RANDOM.slice(0, 50)) {
      const before = structuredClone(community);
      const value = evaluate(entry, community);
      expect(community).toEqual(before);
      const close = (other: number | undefined) =>
        value === undefined
          ? expect(other).toBe(undefined)
          : expect(Math.abs((other ?? Number.NaN) - value)).toBeLessThanOrEqual(1e-12 * Math.max(1, value));
      close(evaluate(entry, shuffled(community)));
      close(evaluate(entry, withZeroRows(community)));
    }
  });

  it("keeps to its law when every count is multiplied", () => {
    let changed = 0;
    for (const community of RANDOM.slice(0, 60)) {
      const value = evaluate(entry, community);
      const after = evaluate(entry, community, 7);
      if (entry.whenMultiplied === "changes") {
        if (value !== after) changed++;
        continue;
      }
      if (value === undefined) {
        expect(after).toBe(undefined);
        continue;
      }
      const expected = entry.whenMultiplied === "same" ? value : 7 * value;
      expect(Math.abs((after ?? Number.NaN) - expected)).toBeLessThanOrEqual(1e-10 * Math.max(1, expected));
    }
    if (entry.whenMultiplied === "changes") expect(changed).toBeGreaterThan(0);
  });

  it("explains every taxon of its first example", () => {
    const { metric, community, context } = firstReady(entry);
    const contributions = metric.contributions(community, context);
    const explained = new Set(contributions.map(({ taxon }) => taxon));
    for (const taxon of community.taxa) expect(explained.has(taxon)).toBe(true);
    for (const { counted, why } of contributions) if (!counted) expect(why).toMatch(/\S/);
  });
});

describe("an entry by its id", () => {
  it("is found, is undefined where there is none, and is never guessed where it must be there", () => {
    expect(metricOf("taxa_richness")).toBe(findMetric("taxa_richness"));
    expect(findMetric("taxa_riches")).toBeUndefined();
    expect(() => metricOf("taxa_riches")).toThrow(RangeError);
  });
});
