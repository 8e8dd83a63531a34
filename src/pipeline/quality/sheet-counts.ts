import type { FindingSink } from "../../findings/collector.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { TaxonTree } from "../../model/taxon-tree.ts";
import type { CountPolicy } from "../../names/count-policy.ts";
import type { NameResolver } from "../../names/resolve.ts";
import type { SheetCounts } from "../../quality/match-sheets.ts";
import type { BenchSheets } from "../../sheets/bench-sheet.ts";
import type { BatchNames } from "../batch-names.ts";
import { resolveBatchNames } from "../batch-names.ts";
import { gatherPiles } from "../sample-piles.ts";

/** One sample of one sheet with its names resolved. */
export interface CountedSheet {
  readonly sampleId: string;
  /** Animals that count of each taxon: stages, jars and grids added up, large/rare finds with them. */
  readonly counts: SheetCounts;
  /** Codes that refuse the sample. */
  readonly refusals: readonly FindingCode[];
  /** Who named the animals and when, as the rows say; several are joined. */
  readonly identifiedBy: string;
  /** The last date; empty when there is none. */
  readonly identifiedOn: string;
}

/**
 * Resolves the names of several readings of sheets against one tree, so that a number means the same taxon in
 * all of them: operational taxa (slash groups, provisional names) are added to the tree once.
 */
export function resolveTogether(
  readings: readonly BenchSheets[],
  resolver: NameResolver,
  sharedTree: TaxonTree,
): { readonly tree: TaxonTree; readonly names: readonly BatchNames[] } {
  let tree = sharedTree;
  for (const reading of readings) tree = resolveBatchNames(reading.table.names, resolver, tree).tree;
  const names = readings.map((reading) => resolveBatchNames(reading.table.names, resolver, tree));
  return { tree, names };
}

/** The samples of a reading, in the order in which they first appear. */
export function countSheets(
  sheets: BenchSheets,
  names: BatchNames,
  policy: CountPolicy,
  findings: FindingSink,
  wanted: (sampleId: string) => boolean,
): CountedSheet[] {
  const { table } = sheets;
  const bySample = table.bySample();
  return table.samples.texts.flatMap((sampleId, sample): CountedSheet[] => {
    if (!wanted(sampleId)) return [];
    const piles = gatherPiles(sample, { table, names, policy, findings });
    const counts = new Map<number, number>();
    for (const { taxon, count } of piles.piles)
      if (count > 0) counts.set(taxon, (counts.get(taxon) ?? 0) + count);
    const people = new Set<string>();
    let identifiedOn = "";
    for (const row of bySample.rowsOf(sample)) {
      const rare = table.rareAt(row);
      if (rare?.identifiedBy !== undefined && rare.identifiedBy !== "") people.add(rare.identifiedBy);
      if (rare?.identifiedOn !== undefined && rare.identifiedOn > identifiedOn)
        identifiedOn = rare.identifiedOn;
    }
    return [
      {
        sampleId,
        counts,
        refusals: [...(sheets.refused.get(sampleId) ?? []), ...piles.refusals],
        identifiedBy: [...people].join(" + "),
        identifiedOn,
      },
    ];
  });
}
