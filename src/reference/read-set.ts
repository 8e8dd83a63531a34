import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Finding, Place } from "../findings/finding.ts";
import type { RatingClass } from "../model/segment.ts";
import { checkDefinition } from "./check-definition.ts";
import { checkSetNames } from "./check-names.ts";
import { checkScoreAs } from "./check-score-as.ts";
import type { SetFolder } from "./folder.ts";
import { readOptionalSetFile, readSetFile, shownPath } from "./folder.ts";
import { joinAttributes } from "./join-attributes.ts";
import { ratingClassesOf } from "./rating-classes.ts";
import type { ReadDefinition } from "./read-definition.ts";
import { readDefinition } from "./read-definition.ts";
import { readSetSources } from "./read-set-sources.ts";
import type { SetTaxa } from "./read-set-taxa.ts";
import { NO_SET_TAXA, readSetTaxa } from "./read-set-taxa.ts";
import { readThresholds } from "./read-thresholds.ts";
import type { ReferenceSet } from "./set.ts";
import { setHash } from "./set-hash.ts";
import type { Source } from "./shared-sources.ts";
import type { SharedTables } from "./shared-tables.ts";
import { classFaults, thresholdFaults } from "./span-findings.ts";

/** Field of thresholds.csv at which gaps are pointed out: the lower limit, as the table is usually written. */
const LOWER_COLUMN = 4;

/** A set as read, with what `reference check` wants to know beside it. */
export interface ReadSet {
  readonly set: ReferenceSet;
  /** Gaps that the set states as the publication's own or as deliberate: facts, not faults. */
  readonly stated: readonly Finding[];
  readonly definition: ReadDefinition;
  readonly taxa: SetTaxa;
  readonly taxaFile: string;
  readonly thresholdsFile: string;
}

/**
 * Reads a reference set: set.json, thresholds.csv and, where there is one, taxa.csv, joined with the shared
 * tables it uses. Faults are `bad-set` findings with their place; gaps and overlaps between segments or classes
 * are warnings, unless the set states that a gap is the publication's own.
 *
 * @returns undefined when a fault makes the set unusable
 * @throws FileError when set.json or thresholds.csv cannot be read
 */
export async function readReferenceSet(
  folder: SetFolder,
  shared: SharedTables,
  findings: FindingSink,
): Promise<ReferenceSet | undefined> {
  return (await readSet(folder, shared, findings))?.set;
}

/** Reads a reference set as `readReferenceSet` does, and keeps what it was read from. */
export async function readSet(
  folder: SetFolder,
  shared: SharedTables,
  findings: FindingSink,
): Promise<ReadSet | undefined> {
  const json = await readSetFile(folder, "set.json");
  const thresholdsFile = await readSetFile(folder, "thresholds.csv");
  const taxaFile = await readOptionalSetFile(folder, "taxa.csv");
  const sourcesFile = await readOptionalSetFile(folder, "sources.csv");
  const taxaName = shownPath(folder, "taxa.csv");
  const faults = new FindingCollector();
  const read = readDefinition(json, faults);
  const taxa = taxaFile === undefined ? NO_SET_TAXA : await readSetTaxa(taxaFile, faults);
  const ownSources =
    sourcesFile === undefined ? new Map<string, Source>() : await readSetSources(sourcesFile, faults);
  const thresholds =
    read === undefined ? undefined : await readThresholds(thresholdsFile, read.definition, faults);
  if (read !== undefined) checkDefinition(read, faults);
  if (read !== undefined && taxa !== undefined) {
    for (const one of checkSetNames(read, taxa, shared, taxaName)) faults.add(one);
  }
  const attributes =
    read === undefined || taxa === undefined
      ? undefined
      : joinAttributes(read, taxa, shared, taxaName, faults);
  if (attributes !== undefined && taxa !== undefined && taxa.scoreAs.size > 0) {
    const placeOf = (taxon: string) => ({
      file: taxaName,
      ...(taxa.taxa.get(taxon) ?? { line: 0, column: 0 }),
    });
    for (const one of checkScoreAs(attributes.held, shared.tree, placeOf)) faults.add(one);
  }
  for (const fault of faults.all) findings.add(fault);
  if (read === undefined || taxa === undefined || thresholds === undefined || attributes === undefined)
    return undefined;
  if (faults.count("error") > 0) return undefined;
  const { definition } = read;
  const classes = ratingClassesOf(definition.ratings.classes);
  const placeAt = (line: number): Place => ({ file: thresholdsFile.shownAs, line, column: LOWER_COLUMN });
  const spans = [...thresholdFaults(definition, thresholds, placeAt), ...ratingFaults(read, classes)];
  for (const one of spans) if (one.severity !== "note") findings.add(one);
  const set: ReferenceSet = {
    definition,
    folder: folder.shownAs,
    segments: thresholds,
    classes,
    attributes: attributes.held,
    attributesNotHeld: attributes.notHeld,
    standIns: [],
    ownSources,
    groups:
      definition.naming === "groups"
        ? { names: [...taxa.taxa.keys()], alsoCalled: taxa.alsoCalled }
        : { names: [], alsoCalled: new Map() },
    hash: setHash(
      [
        ["set.json", json.bytes],
        ["thresholds.csv", thresholdsFile.bytes],
        ...(taxaFile === undefined ? [] : [["taxa.csv", taxaFile.bytes] as const]),
      ],
      definition,
      shared,
    ),
  };
  return {
    set,
    stated: spans.filter((one) => one.severity === "note"),
    definition: read,
    taxa,
    taxaFile: taxaName,
    thresholdsFile: thresholdsFile.shownAs,
  };
}

function ratingFaults({ definition, placeOf }: ReadDefinition, classes: readonly RatingClass[]) {
  const { index } = definition;
  return [
    ...classFaults(
      definition,
      { ...definition.ratings, title: "rating classes", round_to: index.round_to },
      classes,
      placeOf("ratings", "classes"),
    ),
    ...definition.other_ratings.flatMap((table, at) =>
      classFaults(
        definition,
        { ...table, title: `rating classes "${table.id}"`, round_to: table.round_to ?? index.round_to },
        ratingClassesOf(table.classes),
        placeOf("other_ratings", at, "classes"),
      ),
    ),
  ];
}
