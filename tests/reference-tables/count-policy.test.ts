import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import type { CountPolicy, Rank } from "../../src/model/taxon-tree.ts";
import { RANKS, TaxonTree } from "../../src/model/taxon-tree.ts";
import { effectivePolicy, lifeStages, repeated, sources, taxa, taxonByName } from "./tables.ts";

describe("what counts, by taxon", () => {
  it("writes a policy only where it differs from the parent's, and never a reason without one", () => {
    const idle = taxa.filter((row) => {
      if (row.count_policy === "") return row.count_reason !== "";
      if (row.parent === "") return false;
      const above = effectivePolicy(row.parent);
      return above.policy === row.count_policy && above.reason === row.count_reason;
    });
    expect(idle).toEqual([]);
  });

  it("comes to the number of taxa per policy of the table it was made from", () => {
    const tally = new Map<string, number>();
    for (const row of taxa) {
      const { policy } = effectivePolicy(row.taxon);
      tally.set(policy, (tally.get(policy) ?? 0) + 1);
    }
    expect(Object.fromEntries(tally)).toEqual({ count: 2059, exclude: 124, release: 34 });
  });

  it("is what the program's tree makes of it, taxon by taxon", () => {
    const ranks = new Map<string, Rank>(RANKS.map((rank) => [rank, rank]));
    const policies = new Map<string, CountPolicy>(
      (["count", "exclude", "release"] as const).map((policy) => [policy, policy]),
    );
    const tree = TaxonTree.fromRows(
      taxa.map((row) => ({
        taxon: row.taxon,
        rank: ranks.get(row.rank) ?? "species",
        parent: row.parent,
        policy: policies.get(row.count_policy),
        policyReason: row.count_reason,
      })),
    );
    const byTree = tree.names.map((_, i) => ({ policy: tree.policies[i], reason: tree.policyReasons[i] }));
    expect(byTree).toEqual(tree.names.map((name) => effectivePolicy(name)));
  });

  it("gives a reason for all that does not count", () => {
    const silent = taxa.filter((row) => {
      const { policy, reason } = effectivePolicy(row.taxon);
      return policy !== "count" && reason === "";
    });
    expect(silent).toEqual([]);
  });

  // Worked by hand from the tree; which animals count is common practice, no source.
  it.each([
    ["Baetis tricaudatus", "count", ""],
    ["Cambarus", "count", ""],
    ["Corbicula fluminea", "count", ""],
    [
      "Elliptio complanata",
      "release",
      "native freshwater mussels: many species protected; identify in the field and return alive",
    ],
    ["Actinopterygii", "exclude", "vertebrate: not an invertebrate"],
    ["Amphibia", "exclude", "vertebrate: not an invertebrate"],
    ["Daphnia", "exclude", "zooplankton"],
    ["Harpacticoida", "exclude", "meiofauna"],
    ["Plumatella", "exclude", "colonial: individuals cannot be counted (record presence)"],
    ["Hydra", "count", "solitary polyp: some laboratories exclude"],
    ["Gerris remigis", "count", "surface film: some laboratories exclude"],
    ["Lumbricidae", "count", "part terrestrial: some laboratories exclude"],
    ["Amynthas", "exclude", "terrestrial earthworm"],
    ["Podura", "exclude", "surface film or terrestrial: not benthic"],
    ["Formicidae", "exclude", "terrestrial (parasitic wasps are incidental)"],
    [
      "Talitridae",
      "count",
      "older lists used this family for Hyalella; true Talitridae are terrestrial or shoreline",
    ],
  ])("%s: %s", (taxon, policy, reason) => {
    expect(effectivePolicy(taxon)).toEqual({ policy, reason });
  });
});

describe("what counts, by life stage", () => {
  it("has one row per taxon and stage, of known taxa, stages, policies and sources", () => {
    const stages: readonly string[] = LIFE_STAGES;
    const known = new Set(sources.map((source) => source.source_id));
    expect(lifeStages).toHaveLength(25);
    expect(repeated(lifeStages.map((row) => `${row.taxon} ${row.life_stage}`))).toEqual([]);
    for (const row of lifeStages) {
      expect(taxonByName.get(row.taxon)?.taxon).toBe(row.taxon);
      expect(stages).toContain(row.life_stage);
      expect(["count", "exclude", "release"]).toContain(row.count_policy);
      expect(row.count_reason).not.toBe("");
      expect(known.has(row.source_id)).toBe(true);
      expect(row.verified).toBe("memory");
    }
  });

  // Common practice, no source.
  it.each([
    ["Baetis", "nymph", "count"],
    ["Baetis", "adult", "exclude"],
    ["Chironomus", "larva", "count"],
    ["Chironomus", "pupa", "count"],
    ["Chironomus", "exuviae", "exclude"],
    ["Chironomus", "adult", "exclude"],
    ["Hydropsyche", "case", "exclude"],
    ["Hydropsyche", "egg", "exclude"],
    ["Physa", "shell", "exclude"],
    ["Elliptio", "shell", "exclude"],
    ["Elliptio", "adult", "release"],
    ["Stenelmis", "adult", "count"],
    ["Hydroporus", "adult", "count"],
    ["Dineutus", "adult", "count"],
    ["Helichus", "adult", "count"],
    ["Psephenus", "larva", "count"],
    ["Psephenus", "adult", "exclude"],
    ["Scirtes", "adult", "exclude"],
    ["Stenus", "adult", "exclude"],
    ["Sigara", "adult", "count"],
    ["Sialis", "adult", "exclude"],
    ["Faxonius", "adult", "count"],
    ["Gammarus", "unknown", "count"],
  ])("%s, %s: %s", (taxon, stage, policy) => {
    expect(effectivePolicy(taxon, stage).policy).toBe(policy);
  });

  it("leaves out winged adults of every insect order that counts, but not those of bugs and beetles", () => {
    const orders = taxa
      .filter((row) => row.parent === "Insecta" && row.rank === "order")
      .map((row) => row.taxon);
    const counting = orders.filter((order) => effectivePolicy(order, "adult").policy === "count");
    expect(counting).toEqual(["Hemiptera", "Coleoptera"]);
  });
});
