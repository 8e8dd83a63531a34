import type { AssemblyRules } from "../../src/taxa/assemble.ts";
import type { CountedPile } from "../../src/taxa/counted-pile.ts";
import { compileLevel } from "../../src/taxa/level.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

/** A pile of the small tree; what is not said is as on most sheets. */
export function pile(name: string, count: number, rest: Partial<CountedPile> = {}): CountedPile {
  return { taxon: taxon(name), count, largeRare: false, distinct: "", numberOfTaxa: 1, ...rest };
}

export const AS_NAMED = compileLevel({ rank: "as-named", exceptions: [] }, tree);
export const TO_GENUS = compileLevel({ rank: "genus", exceptions: [] }, tree);
export const TO_FAMILY = compileLevel({ rank: "family", exceptions: [] }, tree);

/** Distinct taxa, large/rare finds in richness, names as they are; what is given replaces that. */
export function rules(rest: Partial<AssemblyRules> = {}): AssemblyRules {
  return { tree, levelOf: AS_NAMED, parents: "distinct", largeRare: "richness", ...rest };
}
