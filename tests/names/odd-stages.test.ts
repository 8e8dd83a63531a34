import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { oddStages } from "../../src/names/odd-stages.ts";
import { shared } from "../helpers/shared-tables.ts";
import { smallTables } from "./small-tables.ts";

const { tree } = shared;

/** The stages that a taxon cannot have, with the group that says so. */
function oddOf(name: string): string[] {
  const taxon = tree.numberOf(name);
  if (taxon === undefined) throw new Error(`no ${name}`);
  const oddFor = oddStages(tree);
  return LIFE_STAGES.flatMap((stage) => {
    const group = oddFor(taxon, stage);
    return group === undefined ? [] : [`${stage}: ${group}`];
  });
}

// From memory of general entomology and zoology, as the table itself is: insects without a resting stage have no
// pupa, worms hatch as small worms, mites and crayfish are not nymphs or pupae of this kind.
describe("stages that animals of a group never have", () => {
  it.each<[string, string[]]>([
    ["Baetis tricaudatus", ["pupa: Ephemeroptera"]],
    ["Gomphidae", ["pupa: Odonata"]],
    ["Perlidae", ["pupa: Plecoptera"]],
    ["Corixidae", ["pupa: Hemiptera"]],
    ["Collembola", ["nymph: Collembola", "pupa: Collembola"]],
    ["Faxonius", ["nymph: Malacostraca", "pupa: Malacostraca"]],
    ["Hyalella azteca", ["larva: Amphipoda", "nymph: Malacostraca", "pupa: Malacostraca"]],
    ["Caecidotea", ["larva: Isopoda", "nymph: Malacostraca", "pupa: Malacostraca"]],
    ["Corbicula", ["nymph: Mollusca", "pupa: Mollusca"]],
    ["Physa", ["larva: Gastropoda", "nymph: Mollusca", "pupa: Mollusca"]],
    ["Tubificidae", ["larva: Annelida", "nymph: Annelida", "pupa: Annelida"]],
    ["Platyhelminthes", ["larva: Platyhelminthes", "nymph: Platyhelminthes", "pupa: Platyhelminthes"]],
    ["Nematoda", ["nymph: Nematoda", "pupa: Nematoda"]],
    ["Nematomorpha", ["nymph: Nematomorpha", "pupa: Nematomorpha"]],
    // Groups with every stage, and a taxon above the groups, which may be anything.
    ["Elmidae", []],
    ["Chironomidae", []],
    ["Hydropsyche", []],
    ["Insecta", []],
    ["Animalia", []],
  ])("%s: %j", (name, odd) => {
    expect(oddOf(name)).toEqual(odd);
  });

  it("are asked of the groups that a tree has", () => {
    const { tree: small } = smallTables();
    const oddFor = oddStages(small);
    expect(oddFor(small.numberOf("Baetis") ?? -1, "pupa")).toBe("Ephemeroptera");
    expect(oddFor(small.numberOf("Nais") ?? -1, "larva")).toBe("Annelida");
    expect(oddFor(small.numberOf("Baetis") ?? -1, "larva")).toBe(undefined);
  });
});
