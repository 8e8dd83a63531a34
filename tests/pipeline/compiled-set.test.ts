import { describe, expect, it } from "vitest";
import type { Attribute, AttributeTable } from "../../src/model/attributes.ts";
import type { SetDefinitionInput } from "../../src/model/reference-set.ts";
import { compileSet } from "../../src/pipeline/compiled-set.ts";
import { loadSmall, saying } from "../helpers/small-batch.ts";

type Metric = SetDefinitionInput["metrics"][number];

/** What is said of a set that uses a metric beside the number of taxa. */
async function faultsOf(metric: Metric) {
  const { batch, findings } = await loadSmall({
    sheet: "sample_id,taxon,count\nA,Epeorus,1\n",
    set: { metrics: [{ id: "taxa_richness" }, metric] },
  });
  return { isRefused: batch === undefined, said: saying(findings, "bad-set") };
}

describe("a set joined with the catalogue", () => {
  it("names the closest metrics for one that is not known", async () => {
    const { isRefused, said } = await faultsOf({ id: "ept_richnes" });
    expect(isRefused).toBe(true);
    expect(said).toEqual([
      expect.stringMatching(/"ept_richnes" is not in the catalogue; close names: ept_richness/),
    ]);
  });

  it("names the closest setting and the closest taxon", async () => {
    const setting = await faultsOf({ id: "percent_ept", settings: { wihtin: "Baetidae" } });
    expect(setting.isRefused).toBe(true);
    expect(setting.said).toEqual([expect.stringMatching(/unknown setting "wihtin".*within/)]);
    const taxon = await faultsOf({ id: "percent_ept", settings: { within: "Baetidea" } });
    expect(taxon.isRefused).toBe(true);
    expect(taxon.said).toEqual([expect.stringMatching(/the tree of taxa has no "Baetidea".*Baetidae/)]);
  });

  it("refuses a filter that no taxon of the whole table passes", async () => {
    const value = await faultsOf({
      id: "intolerant_richness",
      metric: "taxa_richness",
      settings: { tolerance_above: 10 },
    });
    expect(value.isRefused).toBe(true);
    expect(value.said).toEqual([expect.stringMatching(/no taxon of the whole tree .*tolerance above 10/)]);
    const group = await faultsOf({
      id: "flies",
      metric: "taxa_richness",
      settings: { within: "Diptera", except: "Diptera" },
    });
    expect(group.said).toEqual([
      expect.stringMatching(/no taxon of the whole tree .*within Diptera, without Diptera/),
    ]);
  });

  it("says that values lead back to their taxon, as those of one set in the tree of another may", async () => {
    const { batch } = await loadSmall({ sheet: "sample_id,taxon,count\nA,Epeorus,1\n", set: {} });
    const { set, tree } = (batch as NonNullable<typeof batch>).compiled;
    const [[attribute, table]] = [...set.attributes] as [[Attribute, AttributeTable]];
    const circle = { ...table, values: new Map(), scoreAs: new Map([["Baetis", "Baetis"]]) };
    expect(compileSet({ ...set, attributes: new Map([[attribute, circle]]) }, tree, [])).toEqual({
      problems: ['tolerance: "Baetis" is scored as itself in a circle'],
    });
  });

  it("says when the set names no table for an attribute that a metric reads", async () => {
    const { isRefused, said } = await faultsOf({ id: "percent_scrapers" });
    expect(isRefused).toBe(true);
    expect(said).toEqual([expect.stringMatching(/needs the attribute "feeding_group"/)]);
  });
});
