import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as z from "zod";
import { metricsPage } from "../../src/metrics/page.ts";
import { findMetric, METRIC_THEMES, METRICS } from "../../src/metrics/registry.ts";
import { listFilterSettings, listSettings, takesFilters } from "../../src/metrics/setting-list.ts";

const PAGE = new URL("../../reference-tables/METRICS.md", import.meta.url);

describe("the reference page of the metrics", () => {
  it("is the one that the catalogue writes (UPDATE_DOCS=1 rewrites it)", () => {
    const written = metricsPage(METRIC_THEMES);
    if (process.env.UPDATE_DOCS === "1" && process.env.CI === undefined) writeFileSync(PAGE, written);
    expect(readFileSync(PAGE, "utf8")).toBe(written);
  });

  it("has every metric with its name, formula, sources and arithmetic", () => {
    const written = metricsPage(METRIC_THEMES);
    for (const entry of METRICS) {
      expect(written).toContain(`\n### \`${entry.id}\`\n\n**${entry.name}**`);
      expect(written).toContain(`- Formula: ${entry.formula}\n`);
      for (const { working } of entry.examples) expect(written).toContain(working);
      for (const { citation } of entry.references) expect(written).toContain(citation);
    }
  });

  it("has no bar in a cell, which would break its tables", () => {
    const cells = listFilterSettings().flatMap(({ takes, description }) => [takes, description]);
    const own = METRICS.flatMap((entry) => listSettings(entry.settings, true));
    for (const text of [...cells, ...own.flatMap(({ takes, description }) => [takes, description])])
      expect(text).not.toContain("|");
  });
});

describe("an entry of the reference page", () => {
  it("says of a metric without settings that it has none", () => {
    const [entry] = METRICS;
    if (entry === undefined) throw new Error("no metric");
    const plain = { ...entry, settings: z.strictObject({}) };
    expect(metricsPage([{ title: "Plain", entries: [plain] }])).toContain("- Settings: none\n");
  });

  it("names the facts of the sample that a worked value rests on", () => {
    const page = metricsPage(METRIC_THEMES);
    expect(page).toContain("; estimated total 700; fraction sorted 0.07: ");
    expect(page).toContain(" area sampled 0.09: ");
  });
});

describe("the list of settings", () => {
  it("tells what a setting takes, whether it must be given and what it is otherwise", () => {
    const entry = findMetric("percent_tolerant");
    if (entry === undefined) throw new Error("no metric");
    expect(takesFilters(entry.settings)).toBe(true);
    const own = listSettings(entry.settings, false);
    expect(own.map(({ name, required, byDefault }) => [name, required, byDefault])).toEqual([
      ["of", false, undefined],
      ["limit", true, undefined],
      ["limit_included", false, "true"],
    ]);
    expect(own[1]?.takes).toBe("number, required");
    const model = findMetric("percent_model_affinity");
    expect(model === undefined ? true : takesFilters(model.settings)).toBe(false);
  });

  it("says required of what is required and of nothing else", () => {
    for (const entry of METRICS)
      for (const { name, takes, required } of listSettings(entry.settings, true))
        expect([entry.id, name, takes.endsWith(", required")]).toEqual([entry.id, name, required]);
  });
});
