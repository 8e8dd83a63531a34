import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { RatingClass } from "../model/segment.ts";
import { checkSetNames } from "./check-names.ts";
import type { SetFolder } from "./folder.ts";
import { readOptionalSetFile, readSetFile, shownPath } from "./folder.ts";
import { joinAttributes } from "./join-attributes.ts";
import { ratingClassesOf } from "./rating-classes.ts";
import type { ReadDefinition } from "./read-definition.ts";
import { readDefinition } from "./read-definition.ts";
import { NO_SET_TAXA, readSetTaxa } from "./read-set-taxa.ts";
import { readThresholds } from "./read-thresholds.ts";
import type { ReferenceSet } from "./set.ts";
import { setHash } from "./set-hash.ts";
import type { SharedTables } from "./shared-tables.ts";
import { classFaults, thresholdFaults } from "./span-findings.ts";

/**
 * Reads a reference set: set.json, thresholds.csv and, where there is one, taxa.csv, joined with the shared
 * tables it uses. Faults are `bad-set` findings with their place; gaps and overlaps between segments or classes
 * are warnings, or notes where the set says that they are the publication's own.
 *
 * @returns undefined when a fault makes the set unusable
 * @throws FileError when set.json or thresholds.csv cannot be read
 */
export async function readReferenceSet(
  folder: SetFolder,
  shared: SharedTables,
  findings: FindingSink,
): Promise<ReferenceSet | undefined> {
  const json = await readSetFile(folder, "set.json");
  const thresholdsFile = await readSetFile(folder, "thresholds.csv");
  const taxaFile = await readOptionalSetFile(folder, "taxa.csv");
  const faults = new FindingCollector();
  const read = readDefinition(json, faults);
  const taxa = taxaFile === undefined ? NO_SET_TAXA : await readSetTaxa(taxaFile, faults);
  const thresholds =
    read === undefined ? undefined : await readThresholds(thresholdsFile, read.definition, faults);
  if (read !== undefined) checkDefinition(read, faults);
  const attributes =
    read === undefined || taxa === undefined
      ? undefined
      : joinAttributes(read, taxa, shared, shownPath(folder, "taxa.csv"), faults);
  if (read !== undefined && taxa !== undefined) {
    const names = checkSetNames(read, taxa, shared, shownPath(folder, "taxa.csv"));
    for (const one of names) faults.add(one);
  }
  for (const fault of faults.all) findings.add(fault);
  if (read === undefined || taxa === undefined || thresholds === undefined || attributes === undefined)
    return undefined;
  if (faults.count("error") > 0) return undefined;
  const { definition } = read;
  const classes = ratingClassesOf(definition.ratings.classes);
  for (const one of thresholdFaults(definition, thresholds, (line) => ({
    file: thresholdsFile.shownAs,
    line,
    column: 4,
  }))) {
    findings.add(one);
  }
  for (const one of ratingFaults(read, classes)) findings.add(one);
  return {
    definition,
    folder: folder.shownAs,
    segments: thresholds,
    classes,
    attributes: attributes.held,
    attributesNotHeld: attributes.notHeld,
    standIns: [],
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
}

/** What the schema cannot say: names that must meet, methods that need something. */
function checkDefinition({ definition, placeOf }: ReadDefinition, findings: FindingSink): void {
  const fault = (path: readonly (string | number)[], message: string): void =>
    findings.add(finding("bad-set", placeOf(...path), { message: `${path.join(".")}: ${message}` }));
  const ids = new Map<string, number>();
  definition.metrics.forEach(({ id }, at) => {
    if (ids.has(id)) fault(["metrics", at, "id"], `"${id}" is there twice`);
    ids.set(id, at);
  });
  checkUnique(
    definition.strata.map((one) => one.id),
    (at, id) => fault(["strata", at, "id"], `"${id}" is there twice`),
  );
  const { index } = definition;
  if (index.method === "metric" && index.metric === undefined)
    fault(["index", "method"], "the method metric needs a metric");
  if (index.metric !== undefined && !ids.has(index.metric))
    fault(["index", "metric"], `the set has no metric "${index.metric}"`);
  if (index.method === "scaled-sum" && (index.scale_to === undefined || index.best_sum === undefined)) {
    fault(["index", "method"], "the method scaled-sum needs scale_to and best_sum");
  }
  const tables = [definition.ratings, ...definition.other_ratings];
  tables.forEach((table, at) => {
    const path = at === 0 ? ["ratings"] : ["other_ratings", at - 1];
    table.classes.forEach((one, number) => {
      const where = [...path, "classes", number];
      if (one.stratum !== undefined && !definition.strata.some((stratum) => stratum.id === one.stratum)) {
        fault([...where, "stratum"], `the set has no stratum "${one.stratum}"`);
      }
      for (const side of ["lower", "upper"] as const) {
        if ((one[side] === undefined) !== (one[`${side}_included`] === undefined)) {
          fault([...where, side], `${side} and ${side}_included go together`);
        }
      }
    });
  });
  checkUnique(
    tables.map((one) => one.id),
    (at, id) =>
      fault(at === 0 ? ["ratings", "id"] : ["other_ratings", at - 1, "id"], `"${id}" is there twice`),
  );
  definition.other_ratings.forEach(({ metric }, at) => {
    if (metric !== undefined && !ids.has(metric))
      fault(["other_ratings", at, "metric"], `the set has no metric "${metric}"`);
  });
}

function checkUnique(ids: readonly string[], report: (at: number, id: string) => void): void {
  ids.forEach((id, at) => {
    if (ids.indexOf(id) < at) report(at, id);
  });
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
