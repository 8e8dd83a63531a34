import type { Dictionary } from "../model/dictionary.ts";
import { entryOf } from "../model/entry-of.ts";
import type { LifeStage } from "../model/life-stage.ts";
import { compareCodePoints } from "../model/order.ts";
import type { OperationalTaxon, TaxonTree } from "../model/taxon-tree.ts";
import { normaliseName } from "../names/normalise.ts";
import type { NameResolver, Resolution } from "../names/resolve.ts";

/** Every name of a batch resolved once, by its number in the dictionary of names. */
export interface BatchNames {
  /** The shared tree with the operational taxa of this batch. */
  readonly tree: TaxonTree;
  readonly resolutions: readonly Resolution[];
  /** Number of the taxon in `tree`; -1 for a name that stays unresolved. */
  readonly taxa: Int32Array;
  /** Number of the name as the draw knows it; names that normalise alike share one. */
  readonly keys: Int32Array;
  /** The normalised names by key number, in code point order: comparing numbers compares names. */
  readonly keyNames: readonly string[];
  /** A life stage written into the name itself, for instance "(L)". */
  readonly stages: readonly (LifeStage | undefined)[];
}

/** Resolves the names of a batch and grows the tree by the operational taxa among them. */
export function resolveBatchNames(
  names: Dictionary,
  resolver: Pick<NameResolver, "resolve">,
  sharedTree: TaxonTree,
): BatchNames {
  const resolutions = names.texts.map((name) => resolver.resolve(name));
  const operational = resolutions.flatMap((one): OperationalTaxon[] =>
    one.kind === "operational" ? [one.operational] : [],
  );
  const tree = sharedTree.extend(operational);
  const normalised = names.texts.map((name) => normaliseName(name));
  const keyNames = [...new Set(normalised)].sort(compareCodePoints);
  const keyOf = new Map(keyNames.map((name, index) => [name, index]));
  return {
    tree,
    resolutions,
    taxa: Int32Array.from(resolutions, (one) => numberOf(one, tree)),
    keys: Int32Array.from(normalised, (name) => entryOf(keyOf, name)),
    keyNames,
    stages: resolutions.map((one) => (one.kind === "unknown" ? undefined : one.stage)),
  };
}

function numberOf(resolution: Resolution, tree: TaxonTree): number {
  if (resolution.kind === "unknown") return -1;
  const name = resolution.kind === "taxon" ? resolution.taxon : resolution.operational.name;
  return tree.numberOf(name) ?? -1;
}
