import { compareCodePoints } from "../model/order.ts";
import type { ReportRun, ReportSample } from "./report-data.ts";

/** A sample with the run that scored it. */
export interface ScoredVisit {
  readonly run: ReportRun;
  readonly sample: ReportSample;
}

/** Everything known of a site. */
export interface ReportSite {
  /** Its id, or the sample's where the log names no site. */
  readonly name: string;
  readonly isSite: boolean;
  /** Name of its page: plain letters, safe on every system, unlike every other also without regard to case. */
  readonly file: string;
  /** From the newest day to the oldest, days not known last. */
  readonly visits: readonly ScoredVisit[];
}

/** Mean, range and number of the indices of samples that stand for one thing. */
export interface IndexSummary {
  readonly count: number;
  readonly mean: number;
  readonly least: number;
  readonly most: number;
}

/**
 * The sites of some runs, by name. A sample that several runs scored with the same set is taken from the last of
 * them.
 */
export function sitesOf(runs: readonly ReportRun[]): ReportSite[] {
  const latest = new Map<string, ScoredVisit>();
  for (const run of runs)
    for (const sample of run.samples) {
      const key = JSON.stringify([run.set.hash, sample.sampleId]);
      latest.delete(key);
      latest.set(key, { run, sample });
    }
  const bySite = new Map<string, ScoredVisit[]>();
  for (const visit of latest.values()) {
    const { siteId, sampleId } = visit.sample;
    const key = siteId === "" ? `sample ${sampleId}` : `site ${siteId}`;
    const known = bySite.get(key);
    if (known === undefined) bySite.set(key, [visit]);
    else known.push(visit);
  }
  const taken = new Set<string>();
  return [...bySite.entries()]
    .sort(([a], [b]) => compareCodePoints(a, b))
    .map(([key, visits]) => ({
      name: key.slice(key.indexOf(" ") + 1),
      isSite: key.startsWith("site "),
      file: pageName(key, taken),
      visits: visits.sort(
        (a, b) =>
          compareCodePoints(b.sample.collectedOn, a.sample.collectedOn) ||
          compareCodePoints(a.sample.sampleId, b.sample.sampleId) ||
          compareCodePoints(a.run.set.version, b.run.set.version),
      ),
    }));
}

/** Longest part of a page's name that comes from the site. */
const LONGEST = 60;

function pageName(key: string, taken: Set<string>): string {
  const plain = key.replace(/[^A-Za-z0-9_-]+/g, "-").slice(0, LONGEST);
  for (let number = 1; ; number++) {
    const name = number === 1 ? plain : `${plain}-${number}`;
    if (taken.has(name.toLowerCase())) continue;
    taken.add(name.toLowerCase());
    return `${name}.html`;
  }
}

/**
 * The result of several samples together: the mean of the indices that they have each on their own. Samples
 * without an index and field duplicates, which measure precision, are left out.
 *
 * @returns undefined when no sample has an index
 */
export function summaryOf(samples: readonly ReportSample[]): IndexSummary | undefined {
  const indices = samples.flatMap(({ index, duplicateOf }) =>
    index === undefined || duplicateOf !== "" ? [] : [index],
  );
  if (indices.length === 0) return undefined;
  return {
    count: indices.length,
    mean: indices.reduce((sum, index) => sum + index, 0) / indices.length,
    least: Math.min(...indices),
    most: Math.max(...indices),
  };
}

/** Visits of a site by the set that scored them, in the order in which the sets first appear. */
export function bySet(visits: readonly ScoredVisit[]): ScoredVisit[][] {
  const groups = new Map<string, ScoredVisit[]>();
  for (const visit of visits) {
    const known = groups.get(visit.run.set.hash);
    if (known === undefined) groups.set(visit.run.set.hash, [visit]);
    else known.push(visit);
  }
  return [...groups.values()];
}

/** Samples of one day together, from the newest day to the oldest. */
export function byDay(
  visits: readonly ScoredVisit[],
): { readonly day: string; readonly samples: ReportSample[] }[] {
  const days = new Map<string, ReportSample[]>();
  for (const { sample } of visits) {
    const known = days.get(sample.collectedOn);
    if (known === undefined) days.set(sample.collectedOn, [sample]);
    else known.push(sample);
  }
  return [...days].map(([day, samples]) => ({ day, samples }));
}
