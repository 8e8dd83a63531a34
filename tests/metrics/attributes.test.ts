import { describe, expect, it } from "vitest";
import { findMetric } from "../../src/metrics/registry.ts";
import { attributesOf, ready } from "../helpers/metrics/build.ts";
import { ORACLE_SETTINGS } from "../helpers/metrics/oracle.ts";
import { VALUES } from "../helpers/metrics/oracle-taxa.ts";

const ATTRIBUTES = attributesOf(VALUES);

function attributes(metric: string, settings: Record<string, unknown> = {}): readonly string[] {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  return ready(entry, { ...ORACLE_SETTINGS[metric], ...settings }, ATTRIBUTES).attributes;
}

describe("the attributes that a metric reads, of which missing values are reported", () => {
  it.each<[string, Record<string, unknown>, string[]]>([
    ["taxa_richness", {}, []],
    ["taxa_richness", { within: "Insecta", except: "Diptera", identified_to: "family" }, []],
    ["taxa_richness", { has_value: ["habit", "tolerance"] }, ["habit", "tolerance"]],
    ["taxa_richness", { any_of: [{ habit: "clinger" }, { tolerance_below: 3 }] }, ["habit", "tolerance"]],
    ["tolerance_index", {}, ["tolerance"]],
    ["tolerance_index", { habit: "clinger" }, ["tolerance", "habit"]],
    ["sum_of_scores", { habit: "clinger" }, ["tolerance", "habit"]],
    ["sqmci", { habit: "clinger" }, ["tolerance", "habit"]],
    ["percent_ept", {}, []],
    ["percent_clingers", { of: { tolerance_below: 9 } }, ["tolerance", "habit"]],
    ["percent_clingers", {}, ["habit"]],
    ["percent_clinger_taxa", { of: { tolerance_below: 9 } }, ["tolerance", "habit"]],
    ["percent_taxa", {}, []],
    [
      "individuals_ratio",
      { above: { habit: "clinger" }, below: { tolerance_above: 3 } },
      ["habit", "tolerance"],
    ],
    ["percent_model_affinity", {}, []],
    ["percent_model_affinity", { model: [{ percent: 40, habit: "clinger" }] }, ["habit"]],
    ["becks_index", { habit: "clinger" }, ["habit", "tolerance"]],
  ])("of %s with %j", (metric, settings, expected) => {
    expect(attributes(metric, settings)).toEqual(expected);
  });
});
