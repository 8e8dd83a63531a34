import { describe, expect, it } from "vitest";
import type { LifeStage } from "../../src/model/life-stage.ts";
import type { PolicyOverride } from "../../src/names/count-policy.ts";
import { CountPolicy, checkOverrides } from "../../src/names/count-policy.ts";
import { NameResolver, operationalTaxa } from "../../src/names/resolve.ts";
import { shared } from "../helpers/shared-tables.ts";
import { smallTables } from "./small-tables.ts";

const GROUPS = ["Cladocera/Copepoda", "Physa/Chironomidae", "Cladocera/Physa", "Elmidae sp. A"];
const resolver = new NameResolver(shared);
const tree = shared.tree.extend(operationalTaxa(GROUPS.map((name) => resolver.resolve(name))));

function policyOf(overrides: readonly PolicyOverride[] = []) {
  const policy = new CountPolicy(tree, shared.stageRules, overrides);
  return (name: string, stage: LifeStage = "unknown", released = false) => {
    const resolution = resolver.resolve(name);
    const found =
      resolution.kind === "operational"
        ? resolution.operational.name
        : resolution.kind === "taxon"
          ? resolution.taxon
          : "";
    const taxon = tree.numberOf(found);
    if (taxon === undefined) throw new Error(`no ${name}`);
    return policy.decide(taxon, stage, released);
  };
}

// What counts is common practice, no source (reference-tables/taxa says so row by row); section headings of the
// SAFIT 2006 rules name the groups left out: Cladocera, Copepoda, parasites, shore dwellers, terrestrial animals.
describe("which animals count", () => {
  const decide = policyOf();

  it.each<[string, LifeStage, string]>([
    ["Baetis tricaudatus", "larva", "count"],
    ["Baetis tricaudatus", "nymph", "count"],
    ["Baetis tricaudatus", "unknown", "count"],
    ["Baetis tricaudatus", "adult", "exclude"],
    ["Perlidae", "adult", "exclude"],
    ["Hydropsyche", "adult", "exclude"],
    ["Hydropsyche", "pupa", "count"],
    ["Gomphidae", "adult", "exclude"],
    ["Sialis", "adult", "exclude"],
    ["Chironomidae", "adult", "exclude"],
    ["Chironomidae", "pupa", "count"],
    ["Psephenus", "adult", "exclude"],
    ["Psephenus", "larva", "count"],
    ["Optioservus", "adult", "count"],
    ["Dytiscidae", "adult", "count"],
    ["Corixidae", "adult", "count"],
    ["Faxonius", "adult", "count"],
    ["Cladocera", "unknown", "exclude"],
    ["Copepoda", "adult", "exclude"],
    ["Actinopterygii", "unknown", "exclude"],
    ["Collembola", "unknown", "exclude"],
    ["Margaritifera", "unknown", "release"],
    ["Corbicula", "unknown", "count"],
    ["Physa", "egg", "exclude"],
  ])("%s, %s: %s", (name, stage, policy) => {
    expect(decide(name, stage).policy).toBe(policy);
  });

  it.each(["exuviae", "shell", "case"] as const)("never counts %s", (stage) => {
    expect(decide("Baetis", stage).policy).toBe("exclude");
    expect(decide("Margaritifera", stage, true).policy).toBe("exclude");
    const bold = policyOf([
      { taxon: "Animalia", policy: "count", reason: "all" },
      { taxon: "Animalia", life_stage: stage, policy: "count", reason: "even these" },
    ]);
    expect(bold("Baetis", stage).policy).toBe("exclude");
  });

  it("records an animal put back and does not count it, whatever the taxon", () => {
    expect(decide("Margaritifera", "adult", true)).toEqual({
      policy: "release",
      reason: "put back alive: recorded, not counted",
    });
    expect(decide("Faxonius", "adult", true).policy).toBe("release");
    expect(decide("Actinopterygii", "adult", true).policy).toBe("release");
    const all = policyOf([{ taxon: "Unionida", policy: "count", reason: "scored" }]);
    expect(all("Margaritifera", "adult", true).policy).toBe("release");
  });

  it("says why in the words of the tables", () => {
    expect(decide("Cottus/Actinopterygii".split("/")[1] ?? "").reason).toBe(
      "vertebrate: not an invertebrate",
    );
    expect(decide("Psephenus", "adult").reason).toBe(
      "adult lives on land beside the water; common practice, no source",
    );
  });
});

describe("a set's overrides", () => {
  it("make a kept mussel count, and all below the taxon", () => {
    const decide = policyOf([{ taxon: "Unionida", policy: "count", reason: "the index scores them" }]);
    expect(decide("Margaritifera")).toEqual({ policy: "count", reason: "the index scores them" });
  });

  it("win over the stage rules, for the stage they name only", () => {
    const decide = policyOf([
      { taxon: "Diptera", life_stage: "adult", policy: "count", reason: "emergence trap" },
      { taxon: "Diptera", life_stage: "pupa", policy: "exclude", reason: "larvae only" },
    ]);
    expect(decide("Chironomidae", "adult").policy).toBe("count");
    expect(decide("Chironomidae", "pupa").policy).toBe("exclude");
    expect(decide("Chironomidae", "larva").policy).toBe("count");
    expect(decide("Perlidae", "adult").policy).toBe("exclude");
  });

  it("decide by the nearest one, at the same taxon by the one for the stage", () => {
    const decide = policyOf([
      { taxon: "Insecta", policy: "exclude", reason: "worms only" },
      { taxon: "Coleoptera", policy: "count", reason: "but beetles" },
      { taxon: "Elmidae", policy: "exclude", reason: "no riffle beetles" },
      { taxon: "Elmidae", life_stage: "adult", policy: "count", reason: "but their adults" },
    ]);
    expect(decide("Baetis").reason).toBe("worms only");
    expect(decide("Dytiscidae").reason).toBe("but beetles");
    expect(decide("Optioservus", "larva").reason).toBe("no riffle beetles");
    expect(decide("Optioservus", "adult").reason).toBe("but their adults");
    expect(decide("Elmidae sp. A", "adult").reason).toBe("but their adults");
  });

  it("make eggs count only when they name them", () => {
    expect(policyOf([{ taxon: "Physa", policy: "count", reason: "x" }])("Physa", "egg").policy).toBe(
      "exclude",
    );
    const named = policyOf([{ taxon: "Physa", life_stage: "egg", policy: "count", reason: "x" }]);
    expect(named("Physa", "egg").policy).toBe("count");
  });

  it("are checked", () => {
    expect(
      checkOverrides(
        [
          { taxon: "Betis", policy: "count", reason: "" },
          { taxon: "Physa", policy: "count", reason: "" },
          { taxon: "Physa", policy: "exclude", reason: "" },
          { taxon: "Physa", life_stage: "shell", policy: "count", reason: "" },
          { taxon: "Physa", life_stage: "shell", policy: "exclude", reason: "" },
        ],
        tree,
      ),
    ).toEqual([
      '"Betis" is not in the taxon tree',
      '"Physa" is decided twice',
      '"Physa (shell)" cannot be made to count: empty shell: not a living animal',
      '"Physa (shell)" is decided twice',
    ]);
  });
});

describe("a slash group", () => {
  it("counts as its members do when they agree, else as the taxon that holds them", () => {
    const decide = policyOf();
    expect(decide("Cladocera/Copepoda").policy).toBe("exclude");
    expect(decide("Cladocera/Physa").policy).toBe("count");
    expect(decide("Physa/Chironomidae").policy).toBe("count");
  });

  it("may be decided about by itself", () => {
    const decide = policyOf([{ taxon: "Cladocera/Copepoda", policy: "count", reason: "lake set" }]);
    expect(decide("Cladocera/Copepoda")).toEqual({ policy: "count", reason: "lake set" });
  });
});

describe("the policies of a tree", () => {
  it("hold where there are neither rules nor overrides, rules for taxa of other trees included", () => {
    const rule = { taxon: "Gone", stage: "adult", policy: "exclude", reason: "not in this tree" } as const;
    for (const policy of [new CountPolicy(tree, []), new CountPolicy(tree, [rule])]) {
      expect(policy.decide(tree.numberOf("Chironomidae") ?? -1, "adult", false)).toEqual({
        policy: "count",
        reason: "",
      });
      expect(policy.decide(tree.numberOf("Actinopterygii") ?? -1, "adult", false)).toEqual({
        policy: "exclude",
        reason: "vertebrate: not an invertebrate",
      });
    }
  });

  it("decide of a member of a group that is not in the tree as of the group's own line", () => {
    const grown = smallTables().tree.extend([
      { name: "Baetis/Gone", parent: "Baetidae", members: ["Baetis", "Gone"] },
    ]);
    const decide = (...overrides: readonly PolicyOverride[]) =>
      new CountPolicy(grown, [], overrides).decide(grown.numberOf("Baetis/Gone") ?? -1, "larva", false)
        .policy;
    expect(decide()).toBe("count");
    expect(decide({ taxon: "Baetidae", policy: "exclude", reason: "no minnows" })).toBe("exclude");
    // The members do not agree: the line of the group decides.
    expect(decide({ taxon: "Baetis", policy: "exclude", reason: "no Baetis" })).toBe("count");
  });
});

it("knows which animals go back alive, whatever a set counts", () => {
  const policy = new CountPolicy(tree, shared.stageRules, [
    { taxon: "Unionida", policy: "count", reason: "scored" },
  ]);
  expect(policy.goesBackAlive(tree.numberOf("Margaritifera") ?? -1)).toBe(true);
  expect(policy.goesBackAlive(tree.numberOf("Corbicula") ?? -1)).toBe(false);
});
