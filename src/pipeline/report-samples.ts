import { publicPlace } from "../exchange/public-place.ts";
import type { Finding } from "../findings/finding.ts";
import { findMetric } from "../metrics/registry.ts";
import { toNumber } from "../model/exact.ts";
import { valueAsNumber } from "../model/metric-value.ts";
import { fact, fractionSorted } from "../model/sample-facts.ts";
import { segmentText, spanText } from "../reference/describe-set.ts";
import type {
  ReportClass,
  ReportMetric,
  ReportRun,
  ReportSample,
  ReportTaxon,
} from "../report/report-data.ts";
import { compareSpans } from "../scoring/limits.ts";
import { classesFor } from "../scoring/rate.ts";
import { indexStory } from "./explain/index-story.ts";
import type { StoredRun } from "./open-run.ts";
import { SamplePreparer } from "./prepare-sample.ts";
import { protectedSites } from "./protected-sites.ts";
import { referencesFor } from "./reference-samples.ts";
import type { Batch } from "./score-batch.ts";
import type { SampleRoad } from "./walk-sample.ts";
import { walkSample } from "./walk-sample.ts";

/** A stored run whose rows and set could be joined. */
type Scorable = StoredRun & { readonly batch: Batch };

/**
 * A run as its pages show it.
 *
 * @param exactPlaces show the places of protected animals as the log has them
 * @param verification how the set was checked, in a line
 */
export function reportRun(run: Scorable, exactPlaces: boolean, verification: string): ReportRun {
  const { batch, choices, set, record } = run;
  const { definition } = set;
  const preparer = new SamplePreparer(batch, choices);
  const references = referencesFor(preparer);
  const isProtected = protectedSites(batch);
  const ofBatch = findingsBySample(run.findings);
  const samples: ReportSample[] = [];
  for (let sample = 0; sample < batch.table.samples.size; sample++) {
    const road = walkSample(preparer, sample, references);
    const { sampleId } = road.score;
    const texts = batch.log.get(sampleId)?.texts ?? new Map<string, string>();
    const place = publicPlace({ facts: texts, isProtectedSite: isProtected(sampleId) }, exactPlaces);
    samples.push(reportSample(run, road, place, ofBatch.get(sampleId) ?? []));
  }
  return {
    name: run.folder.shownAs,
    set: {
      id: definition.id,
      version: definition.version,
      hash: set.hash,
      title: definition.title,
      summary: definition.summary,
      calibratedFor: definition.calibrated_for.replace(/\.?$/, "."),
      verification,
      cautions: definition.cautions,
      higherIs: definition.index.higher_is === "better" ? "better" : "worse",
      tolerance: set.attributes.get("tolerance")?.scheme.direction ?? "",
    },
    seed: record.options.seed,
    inputs: record.inputs.map(({ file, sha256, rows }) => ({ file, sha256, rows })),
    samples,
  };
}

function findingsBySample(findings: readonly Finding[]): Map<string, Finding[]> {
  const bySample = new Map<string, Finding[]>();
  for (const finding of findings) {
    const known = bySample.get(finding.sampleId);
    if (known === undefined) bySample.set(finding.sampleId, [finding]);
    else known.push(finding);
  }
  return bySample;
}

function reportSample(
  { batch, set }: Scorable,
  road: SampleRoad,
  place: ReportSample["place"],
  ofBatch: readonly Finding[],
): ReportSample {
  const { score, findings, scored } = road;
  const facts = batch.log.get(score.sampleId);
  const next = scored === undefined ? undefined : indexStory(set, score, scored).next;
  const number = (value: Parameters<typeof toNumber>[0] | undefined) =>
    value === undefined ? undefined : toNumber(value);
  return {
    sampleId: score.sampleId,
    siteId: score.siteId,
    collectedOn: score.collectedOn,
    waterbody: fact(facts, "waterbody") ?? "",
    stratum: score.stratum,
    status: score.status,
    index: number(score.index),
    rating: score.rating,
    next:
      next === undefined
        ? undefined
        : { distance: toNumber(next.distance), limit: toNumber(next.limit), rating: next.rating },
    classes: classesOf(set.classes, score.stratum),
    counted: score.individualsCounted,
    scored: score.individualsScored,
    fractionSorted: fractionSorted(facts),
    draw: drawText(road),
    duplicateOf: fact(facts, "duplicate_of") ?? "",
    metrics: metricsOf(road, set),
    taxa: taxaOf(batch, road),
    doubts: [...ofBatch, ...findings].map(({ severity, code, message, file, line }) => ({
      severity,
      code,
      message,
      place: line === 0 ? file : `${file}, line ${line}`,
    })),
    place,
  };
}

function classesOf(classes: Scorable["set"]["classes"], stratum: string): ReportClass[] {
  return classesFor(classes, stratum)
    .sort(compareSpans)
    .map(({ rating, lower, upper, meaning }) => ({
      rating,
      lower: lower === undefined ? undefined : toNumber(lower.at),
      upper: upper === undefined ? undefined : toNumber(upper.at),
      span: spanText(lower, upper),
      meaning,
    }));
}

function metricsOf({ score, scored }: SampleRoad, set: Scorable["set"]): ReportMetric[] {
  return score.metrics.map(({ id, value, score: points }, at) => {
    const use = set.definition.metrics.find((one) => one.id === id);
    const entry = findMetric(use?.metric ?? id);
    const segments = scored?.steps[at]?.segments ?? [];
    const scores = segments.flatMap(({ scoreAtLower, scoreAtUpper }) => [
      toNumber(scoreAtLower),
      toNumber(scoreAtUpper),
    ]);
    // Where a low index is the good one, a low score is.
    const isHigherBetter = set.definition.index.higher_is === "better";
    const [least, most] = [Math.min(...scores), Math.max(...scores)];
    return {
      id,
      name: entry?.name ?? id,
      unit: entry?.unit ?? "",
      value: valueAsNumber(value),
      whyMissing: value.kind === "missing" ? value.why : "",
      score: points === undefined ? undefined : toNumber(points),
      scores:
        scores.length === 0
          ? undefined
          : { worst: isHigherBetter ? least : most, best: isHigherBetter ? most : least },
      thresholds: segments.map(segmentText),
    };
  });
}

function taxaOf({ compiled }: Batch, { one }: SampleRoad): ReportTaxon[] {
  if (one === undefined) return [];
  const { taxa, counts, total } = one.community;
  const { tree } = compiled;
  const tolerance = compiled.attributes.get("tolerance");
  return Array.from(taxa, (taxon, at) => {
    const count = counts[at] ?? 0;
    return {
      taxon: tree.nameOf(taxon),
      group: tree.commonGroups[taxon] ?? "",
      count,
      share: total === 0 ? 0 : (count * 100) / total,
      tolerance: tolerance?.has[taxon] === 1 ? (tolerance.scaled[taxon] ?? 0) / tolerance.scale : undefined,
    };
  });
}

/** How the sample was brought to its count, in a sentence. */
function drawText({ prepared, score }: SampleRoad): string {
  if (prepared.kind === "stopped") return "";
  const { status, target, seed, algorithm } = prepared.draw;
  const kept = score.individualsScored ?? 0;
  switch (status) {
    case "drawn":
      return `Of these, ${kept} were drawn at random for the score (target ${target}, seed ${seed}, ${algorithm}): the same seed draws the same animals again.`;
    case "under-target":
      return `That is less than the ${target} that the set asks for, so all of them were scored.`;
    case "empty":
      return "None is left to score.";
    default:
      return "All of them were scored.";
  }
}
