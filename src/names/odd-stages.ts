import type { LifeStage } from "../model/life-stage.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";

/**
 * Stages that animals of a group never have. From memory of general entomology and zoology (insects without a
 * pupa: for instance Merritt, Cummins and Berg 2008, chapter 1): not looked up again for this table.
 */
const NEVER: readonly (readonly [group: string, stages: readonly LifeStage[]])[] = [
  ["Ephemeroptera", ["pupa"]],
  ["Odonata", ["pupa"]],
  ["Plecoptera", ["pupa"]],
  ["Hemiptera", ["pupa"]],
  ["Collembola", ["pupa", "nymph"]],
  ["Malacostraca", ["pupa", "nymph"]],
  ["Amphipoda", ["larva"]],
  ["Isopoda", ["larva"]],
  ["Mollusca", ["pupa", "nymph"]],
  ["Gastropoda", ["larva"]],
  ["Annelida", ["pupa", "nymph", "larva"]],
  ["Platyhelminthes", ["pupa", "nymph", "larva"]],
  ["Nematoda", ["pupa", "nymph"]],
  ["Nematomorpha", ["pupa", "nymph"]],
];

/**
 * The group for which a stage is a slip, by taxon and stage.
 *
 * @returns for a taxon of the tree and a stage: the name of its group when animals of it never have the stage
 */
export function oddStages(tree: TaxonTree): (taxon: number, stage: LifeStage) => string | undefined {
  const rules = NEVER.flatMap(([group, stages]) => {
    const number = tree.numberOf(group);
    return number === undefined ? [] : [{ group, number, stages }];
  });
  return (taxon, stage) =>
    rules.find((rule) => rule.stages.includes(stage) && tree.isWithin(taxon, rule.number))?.group;
}
