import { readdirSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findMetric } from "../../../src/metrics/registry.ts";
import { compareExact } from "../../../src/model/exact.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import { checkSet } from "../../../src/reference/check-set.ts";
import { SharedFiles } from "../../../src/reference/shared-files.ts";
import { SHIPPED, scorePlain, shippedSet, TABLES } from "../../helpers/sets.ts";

const IDS = readdirSync(join(TABLES, "sets")).sort();

it("are these and no others: published methods that may ship, and the invented demo", () => {
  expect(IDS).toEqual([
    "bmwp-aspt-1983",
    "hilsenhoff-biotic-index-1987",
    "hilsenhoff-family-1988",
    "pacific-streamkeepers",
    "pennsylvania-freestone-2012",
    "percent-model-affinity-1992",
    "puget-lowland-genus-1999",
    "puget-lowland-species-family",
    "reference-ratio-1989",
    "three-two-one-tolerance",
    "vennaloo-demo",
    "virginia-family-2003",
    "west-virginia-family-2000",
  ]);
});

describe.each(IDS)("the set %s", (id) => {
  it("is found in order by the checks", async () => {
    const folder = { path: join(TABLES, "sets", id), shownAs: id };
    const results = await checkSet(folder, { shared: SHIPPED, files: new SharedFiles(TABLES) });
    const bad = results.flatMap((result) => result.findings).filter((one) => one.severity !== "note");
    expect(bad).toEqual([]);
    expect(results.length).toBe(9);
  });

  it("claims no more than its weakest part", async () => {
    const { definition } = await shippedSet(id);
    const how = new Set(definition.checks.map((check) => check.how));
    if (definition.verification === "checked") expect(how.has("reproduced") && !how.has("memory")).toBe(true);
    if (definition.verification === "transcribed") expect(how.has("memory")).toBe(false);
    if (how.has("memory")) expect(definition.verification).toBe("memory");
    expect(id === "vennaloo-demo").toBe(definition.verification === "invented");
  });

  it("says what it holds for and what it does not", async () => {
    const { definition } = await shippedSet(id);
    const cautions = definition.cautions.join(" ");
    expect(cautions).toMatch(/no (class is a )?legal determination unless/);
    if (id !== "vennaloo-demo")
      expect(cautions).toMatch(/means nothing without the responsible agency's method/);
    expect(definition.calibrated_for.length).toBeGreaterThan(30);
    expect(definition.sources.every((source) => (SHIPPED.sources.get(source)?.citation ?? "") !== "")).toBe(
      true,
    );
  });

  it("scores every metric in the direction in which stress moves it", async () => {
    const set = await shippedSet(id);
    const { definition } = set;
    for (const use of definition.metrics) {
      if (!set.segments.has(use.id)) continue;
      const stress = findMetric(use.metric ?? use.id)?.stress;
      for (const { id: stratum } of definition.strata) {
        const reference = Object.fromEntries(definition.metrics.map((one) => [one.id, "50"]));
        const scoreAt = (value: number) =>
          scorePlain(set, { [use.id]: value.toFixed(4) }, { stratum, reference }).scores[use.id];
        fc.assert(
          fc.property(
            fc.double({ min: 0, max: 130, noNaN: true }),
            fc.double({ min: 0, max: 130, noNaN: true }),
            (a, b) => {
              const [low, high] = a <= b ? [scoreAt(a), scoreAt(b)] : [scoreAt(b), scoreAt(a)];
              if (low === undefined || high === undefined) return;
              // Ratios that the catalogue calls variable fall with stress in the sets that score them.
              if (stress === "rises") expect(high).toBeLessThanOrEqual(low);
              else expect(high).toBeGreaterThanOrEqual(low);
            },
          ),
          { numRuns: 60 },
        );
      }
    }
  });

  it("orders its classes from best to worst, as its scale runs", async () => {
    const set = await shippedSet(id);
    const { definition } = set;
    const lows = set.classes.map((one) => one.lower).filter((limit) => limit !== undefined);
    const order = definition.index.higher_is === "better" ? -1 : 1;
    for (const [at, limit] of lows.entries()) {
      const next = lows[at + 1];
      if (next !== undefined) expect(Math.sign(compareExact(next.at, limit.at))).toBe(order);
    }
  });

  it("refuses counts when its method's list is not held, unless one is named, which every score then says", async () => {
    const set = await shippedSet(id);
    const missing = [...set.attributesNotHeld.keys()];
    if (missing.length === 0) return;
    const stratum = set.definition.strata[0]?.id ?? "";
    const rows = ["Baetis", "Sweltsa", "Hydropsyche", "Chironomidae", "Simulium"].map(
      (taxon) => `S,${taxon},60`,
    );
    const content = `sample_id,taxon,count\n${rows.join("\n")}\n`;
    const request = { sheets: [{ name: "sheet.csv", content }], reference: id, stratum };
    const refused = await scoreSamples(request);
    expect(refused.isRefused).toBe(true);
    const errors = refused.findings.filter((one) => one.severity === "error");
    expect(errors.map((one) => one.code)).toEqual(missing.map(() => "attributes-not-held"));
    const stand = {
      tolerance: "rbp1999-northwest",
      feeding_group: "feeding-group",
      habit: "habit",
      life_cycle: "life-cycle",
    };
    const attributes = Object.entries(stand).flatMap(([attribute, scheme]) =>
      missing.some((one) => one === attribute) ? [scheme] : [],
    );
    const [sample] = [...(await scoreSamples({ ...request, attributes })).samples];
    expect(sample?.score.flags).toContain("other-attributes");
    expect(sample?.findings.filter((one) => one.code === "other-attributes").length).toBe(missing.length);
  });
});
