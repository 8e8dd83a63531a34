import type { Exact } from "../model/exact.ts";
import { compareCodePoints } from "../model/order.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { Leftover, NamePair } from "./leftover.ts";
import type { SheetCounts, SheetMatching } from "./match-sheets.ts";
import { percentOfSome } from "./percent.ts";
import { coarserOf } from "./taxonomic-line.ts";

/**
 * Kinds of disagreement, the gravest first: another name; the same line of the tree but coarser on one sheet
 * (hierarchical); the same names but more animals on one sheet; a name that only one sheet has, with no animals
 * on the other one that it could have been.
 */
export const DISAGREEMENT_KINDS = ["different-name", "coarser", "number", "missed"] as const;
export type DisagreementKind = (typeof DISAGREEMENT_KINDS)[number];

/** One disagreement between two sheets of a sample. */
export interface Disagreement {
  readonly sampleId: string;
  readonly kind: DisagreementKind;
  /** Name on the first sheet; undefined when these animals are not on it. */
  readonly primary: number | undefined;
  readonly recheck: number | undefined;
  /** Animals that disagree. */
  readonly animals: number;
  /** Their part of the PTD in percentage points: 100 x animals / larger total of the sample. */
  readonly weight: Exact;
  /** Animals of that name on the first sheet, and on the second. */
  readonly primaryCount: number;
  readonly recheckCount: number;
  /** Which sheet has the coarser name; only for the kind `coarser`. */
  readonly coarser?: "primary" | "recheck" | undefined;
  /** The lowest taxon that holds both names; only where there are two. */
  readonly commonTaxon?: number | undefined;
}

/** Every disagreement of one sample, the heaviest first. Their weights add up to its PTD. */
export function disagreementsOf(
  sampleId: string,
  tree: TaxonTree,
  matching: SheetMatching,
  sheets: { readonly primary: SheetCounts; readonly recheck: SheetCounts },
): Disagreement[] {
  const larger = Math.max(matching.primaryTotal, matching.recheckTotal);
  const row = (
    kind: DisagreementKind,
    primary: number | undefined,
    recheck: number | undefined,
    animals: number,
  ): Disagreement => ({
    sampleId,
    kind,
    primary,
    recheck,
    animals,
    weight: percentOfSome(animals, larger),
    primaryCount: countOn(sheets.primary, primary),
    recheckCount: countOn(sheets.recheck, recheck),
  });
  const pair = (kind: DisagreementKind, { primary, recheck, count }: NamePair): Disagreement => ({
    ...row(kind, primary, recheck, count),
    commonTaxon: tree.commonAncestor(primary, recheck),
  });
  const single = (sheet: "primary" | "recheck", { taxon, count, isShared }: Leftover) => {
    if (isShared) return row("number", taxon, taxon, count);
    return sheet === "primary"
      ? row("missed", taxon, undefined, count)
      : row("missed", undefined, taxon, count);
  };
  const rows = [
    ...matching.differentNames.map((one) => pair("different-name", one)),
    ...matching.sameLine.map((one) => ({
      ...pair("coarser", one),
      coarser:
        coarserOf(tree, one.primary, one.recheck) === one.primary
          ? ("primary" as const)
          : ("recheck" as const),
    })),
    ...matching.onlyPrimary.map((one) => single("primary", one)),
    ...matching.onlyRecheck.map((one) => single("recheck", one)),
  ];
  return sortDisagreements(rows, tree);
}

function countOn(sheet: SheetCounts, taxon: number | undefined): number {
  return taxon === undefined ? 0 : (sheet.get(taxon) as number);
}

/** By animals (most first), kind, sample, then the names. */
export function sortDisagreements(rows: readonly Disagreement[], tree: TaxonTree): Disagreement[] {
  const name = (taxon: number | undefined) => (taxon === undefined ? "" : tree.nameOf(taxon));
  return [...rows].sort(
    (a, b) =>
      b.animals - a.animals ||
      DISAGREEMENT_KINDS.indexOf(a.kind) - DISAGREEMENT_KINDS.indexOf(b.kind) ||
      compareCodePoints(a.sampleId, b.sampleId) ||
      compareCodePoints(name(a.primary), name(b.primary)) ||
      compareCodePoints(name(a.recheck), name(b.recheck)),
  );
}
