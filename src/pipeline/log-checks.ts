import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import { closestTexts } from "../metrics/closest.ts";
import type { Dictionary } from "../model/dictionary.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fact, numericFact } from "../model/sample-facts.ts";
import { gearDifference } from "../quality/gear.ts";
import { placeOfFact } from "../quality/intake/rule.ts";

export { placeOfFact };

/** Whether some jars of the sample are still missing, so that it is held back. */
export function isHeldBack(sampleId: string, facts: SampleFacts | undefined, findings: FindingSink): boolean {
  const expected = numericFact(facts, "containers_expected");
  if (facts === undefined || expected === undefined) return false;
  const received = numericFact(facts, "containers_received");
  if (received === undefined || received >= expected) return false;
  findings.add(
    finding("jars-missing", placeOfFact(facts, "containers_received"), {
      message: `sample ${sampleId} is held back: ${received} of ${expected} jars are in`,
      sampleId,
    }),
  );
  return true;
}

/**
 * The stratum whose thresholds apply: the user's for all samples, else the log's; a set with a single stratum
 * applies it to every sample.
 *
 * @returns undefined, with a finding, when it is not known
 */
export function stratumOf(
  sampleId: string,
  facts: SampleFacts | undefined,
  set: SetDefinition,
  forAll: string | undefined,
  sheet: Place,
  findings: FindingSink,
): string | undefined {
  const only = set.strata.length === 1 ? set.strata[0]?.id : undefined;
  const wanted = forAll ?? only ?? fact(facts, "stratum");
  if (wanted !== undefined && set.strata.some((stratum) => stratum.id === wanted)) return wanted;
  const ids = set.strata.map((stratum) => stratum.id);
  const place = facts === undefined ? sheet : placeOfFact(facts, "stratum");
  const says =
    wanted === undefined
      ? `sample ${sampleId} has no stratum`
      : `sample ${sampleId} has the stratum "${wanted}"`;
  const message = `${says}; the set ${set.id} has ${ids.join(", ")}`;
  const hint = stratumHint(wanted, facts, set, ids);
  findings.add(finding("no-stratum", place, { message, sampleId, hint }));
  return undefined;
}

/** Undefined: the usual one. */
function stratumHint(
  wanted: string | undefined,
  facts: SampleFacts | undefined,
  set: SetDefinition,
  ids: readonly string[],
): string | undefined {
  if (wanted !== undefined) {
    const [near] = closestTexts(wanted, ids);
    if (near !== undefined) return `if ${near} is meant, write it so`;
    return `write the one that fits; if none does, the set is not for this stream: it was made for ${set.region}`;
  }
  if (facts !== undefined) return undefined;
  return "the stratum of a sample stands in the sample log, given with --samples; --stratum gives one for all samples";
}

/** A doubt when the sample was collected outside the set's season. */
export function checkSeason(
  sampleId: string,
  facts: SampleFacts | undefined,
  set: SetDefinition,
  findings: FindingSink,
): void {
  if (facts === undefined || set.season === undefined) return;
  const collectedOn = fact(facts, "collected_on");
  if (collectedOn === undefined) return;
  const day = collectedOn.slice(5, 10);
  if (!/^\d\d-\d\d$/.test(day)) return;
  const { from, to } = set.season;
  const inside = from <= to ? day >= from && day <= to : day >= from || day <= to;
  if (inside) return;
  findings.add(
    finding("outside-season", placeOfFact(facts, "collected_on"), {
      message: `sample ${sampleId} was collected on ${collectedOn}; the season of ${set.id} is ${from} to ${to}`,
      sampleId,
    }),
  );
}

/** A doubt when the sample was taken with other gear than the set's. */
export function checkGear(
  sampleId: string,
  facts: SampleFacts | undefined,
  set: SetDefinition,
  findings: FindingSink,
): void {
  if (facts === undefined || set.gear === undefined) return;
  const gear = fact(facts, "gear");
  const mesh = numericFact(facts, "mesh_um");
  if (gear === undefined && mesh === undefined) return;
  const differs = gearDifference(set.gear, gear, mesh);
  if (differs === undefined) return;
  findings.add(
    finding("other-gear", placeOfFact(facts, gear === undefined ? "mesh_um" : "gear"), {
      message: `${sampleId} ${differs}; the gear of ${set.id} is ${set.gear}`,
      sampleId,
    }),
  );
}

/**
 * Samples with counts and no row in the log, and the other way round.
 *
 * @returns what the log says of each sample with counts, by its number
 */
export function compareWithLog(
  sheetSamples: Dictionary,
  log: ReadonlyMap<string, SampleFacts>,
  placeOfSample: (sampleId: string) => Place,
  findings: FindingSink,
): (SampleFacts | undefined)[] {
  const { texts } = sheetSamples;
  const found = new Array<SampleFacts | undefined>(texts.length).fill(undefined);
  const uncounted: SampleFacts[] = [];
  let turn = 0;
  for (const facts of log.values()) {
    // Nearly always both have the same samples; where they have them in the same order, none needs to be looked up.
    const number = texts[turn] === facts.sampleId ? turn : sheetSamples.numberOf(facts.sampleId);
    if (number === undefined) uncounted.push(facts);
    else found[number] = facts;
    turn++;
  }
  for (let number = 0; number < found.length; number++) {
    if (found[number] !== undefined) continue;
    const sampleId = sheetSamples.textOf(number);
    findings.add(
      finding("not-in-log", placeOfSample(sampleId), {
        message: `sample ${sampleId} has counts but no row in the sample log`,
        sampleId,
        hint: loggedHint(sampleId, uncounted),
      }),
    );
  }
  for (const { sampleId, file, line, columns } of uncounted)
    findings.add(
      finding(
        "no-counts",
        { ...wholeFile(file), line, column: columns.get("sample_id") ?? 1 },
        {
          message: `sample ${sampleId} is in the log and has no counts`,
          sampleId,
        },
      ),
    );
  return found;
}

/** So many samples without counts are compared; a log of many years would take long. */
const COMPARED = 500;

/** Points at a sample of the log that no sheet has and that is written nearly so; undefined: the usual hint. */
function loggedHint(sampleId: string, uncounted: readonly SampleFacts[]): string | undefined {
  const [near] = closestTexts(
    sampleId,
    uncounted.slice(0, COMPARED).map((facts) => facts.sampleId),
  );
  if (near === undefined) return undefined;
  return `if ${near} of the log is meant, write the id the same way in both; otherwise add a row to the log`;
}
