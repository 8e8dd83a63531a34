import { publicPlace } from "../exchange/public-place.ts";
import type { Finding } from "../findings/finding.ts";
import { metricOf } from "../metrics/registry.ts";
import { toNumber } from "../model/exact.ts";
import { valueAsNumber } from "../model/metric-value.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fact, fractionSorted } from "../model/sample-facts.ts";
import type { Watcher } from "../model/watcher.ts";
import { segmentText, spanText } from "../reference/describe-set.ts";
import type {
  ReportClass,
  ReportDetail,
  ReportMetric,
  ReportRun,
  ReportSample,
  ReportTaxon,
} from "../report/report-data.ts";
import { compareSpans } from "../scoring/limits.ts";
import { classesFor } from "../scoring/rate.ts";
import { indexStory } from "./explain/index-story.ts";
import { metricScale } from "./metric-scale.ts";
import type { StoredRun } from "./open-run.ts";
import { SamplePreparer } from "./prepare-sample.ts";
import { protectedSites } from "./protected-sites.ts";
import { referencesFor } from "./reference-samples.ts";
import { endsOf, reportInterval } from "./report-interval.ts";
import type { ScoreInterval } from "./result.ts";
import { roadsInThreads } from "./roads.ts";
import type { Batch } from "./score-batch.ts";
import type { SampleRoad } from "./walk-sample.ts";
import { walkSample } from "./walk-sample.ts";

/** A stored run whose rows and set could be joined. */
type Scorable = StoredRun & { readonly batch: Batch };

/**
 * A run as its pages show it. Every sample is worked out once for the lists, and once more, when its page is
 * written, for its details; so the memory does not grow with the animals.
 *
 * @param exactPlaces show the places of protected animals as the log has them
 * @param verification how the set was checked, in a line
 * @param watch told how many samples are scored
 */
export async function reportRun(
  run: Scorable,
  exactPlaces: boolean,
  verification: string,
  watch: Watcher,
): Promise<ReportRun> {
  const { batch, choices, set, record } = run;
  const { definition } = set;
  const preparer = new SamplePreparer(batch, choices);
  const references = referencesFor(preparer);
  const isProtected = protectedSites(batch);
  const ofBatch = findingsBySample(run.findings);
  const classes = new Map<string, ReportClass[]>();
  const numbers = new Map<ReportSample, number>();
  // What resampling gave for the details: too slow to be drawn again for the page of the site.
  const certainties = new Map<number, Certainty>();
  const all = batch.table.samples.size;
  let done = 0;
  for await (const road of roadsInThreads(batch, choices)) {
    const number = done++;
    await watch("samples scored", done, all);
    if (choices.resampling !== undefined)
      certainties.set(number, { metrics: road.score.interval?.metrics ?? [], findings: road.findings });
    const { sampleId, stratum } = road.score;
    const texts = batch.log.get(sampleId)?.texts ?? new Map<string, string>();
    const ofStratum = classes.get(stratum) ?? classesOf(set.classes, stratum);
    classes.set(stratum, ofStratum);
    const sample = reportSample(run, road, {
      place: publicPlace({ facts: texts, isProtectedSite: isProtected(sampleId) }, exactPlaces),
      findings: [...(ofBatch.get(sampleId) ?? []), ...road.findings],
      classes: ofStratum,
    });
    numbers.set(sample, number);
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
    samples: [...numbers.keys()],
    detailOf: (sample) => {
      const number = numbers.get(sample);
      if (number === undefined) throw new Error(`sample ${sample.sampleId} is of another run`);
      const road = walkSample(preparer, number, references);
      return reportDetail(run, road, ofBatch.get(sample.sampleId) ?? [], certainties.get(number));
    },
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
  { score, scored }: SampleRoad,
  beside: {
    readonly place: ReportSample["place"];
    readonly findings: readonly Finding[];
    readonly classes: readonly ReportClass[];
  },
): ReportSample {
  const facts = batch.log.get(score.sampleId);
  const next = scored === undefined ? undefined : indexStory(set, score, scored).next;
  const grave = beside.findings.filter(({ severity }) => severity !== "note");
  return {
    sampleId: score.sampleId,
    siteId: score.siteId,
    collectedOn: score.collectedOn,
    waterbody: fact(facts, "waterbody") ?? "",
    stratum: score.stratum,
    status: score.status,
    index: score.index === undefined ? undefined : toNumber(score.index),
    rating: score.rating,
    interval: reportInterval(score.interval),
    next:
      next === undefined
        ? undefined
        : { distance: toNumber(next.distance), limit: toNumber(next.limit), rating: next.rating },
    classes: beside.classes,
    scored: score.individualsScored,
    duplicateOf: fact(facts, "duplicate_of") ?? "",
    replicateOf: fact(facts, "replicate_of") ?? "",
    doubtCodes: [...new Set(grave.map(({ code }) => code))],
    whyNot:
      scored === undefined
        ? grave.map((finding) => `${finding.message} (${placeText(finding)})`).join("; ")
        : "",
    place: beside.place,
  };
}

/** What is kept of the resamples of a sample for its details. */
interface Certainty {
  readonly metrics: ScoreInterval["metrics"];
  /** All that was found about the sample, those of its interval included. */
  readonly findings: readonly Finding[];
}

function reportDetail(
  { batch, set }: Scorable,
  road: SampleRoad,
  ofBatch: readonly Finding[],
  certainty: Certainty | undefined,
): ReportDetail {
  const { score } = road;
  const findings = certainty?.findings ?? road.findings;
  const facts = batch.log.get(score.sampleId);
  return {
    counted: score.individualsCounted,
    fractionSorted: fractionSorted(facts),
    draw: drawText(road),
    metrics: metricsOf(road, set, facts, certainty?.metrics ?? []),
    taxa: taxaOf(batch, road),
    doubts: [...ofBatch, ...findings].map((finding) => ({
      severity: finding.severity,
      code: finding.code,
      message: finding.message,
      place: placeText(finding),
    })),
  };
}

function placeText({ file, line }: Finding): string {
  return line === 0 ? file : `${file}, line ${line}`;
}

function classesOf(classes: Scorable["set"]["classes"], stratum: string): ReportClass[] {
  return [...classesFor(classes, stratum)].sort(compareSpans).map(({ rating, lower, upper, meaning }) => ({
    rating,
    lower: lower === undefined ? undefined : toNumber(lower.at),
    upper: upper === undefined ? undefined : toNumber(upper.at),
    span: spanText(lower, upper),
    meaning,
  }));
}

function metricsOf(
  { score, scored }: SampleRoad,
  set: Scorable["set"],
  facts: SampleFacts | undefined,
  ends: ScoreInterval["metrics"],
): ReportMetric[] {
  return score.metrics.map(({ id, value, score: points }, at) => {
    const use = set.definition.metrics.find((one) => one.id === id);
    const entry = metricOf(use?.metric ?? id);
    const step = scored?.steps[at];
    return {
      id,
      name: entry.name,
      unit: entry.unit,
      value: valueAsNumber(value),
      whyMissing: value.kind === "missing" ? value.why : "",
      interval: endsOf(ends.find((one) => one.id === id)),
      score: points === undefined ? undefined : toNumber(points),
      scale: step === undefined ? undefined : metricScale(set, id, step, facts),
      thresholds: (step?.segments ?? []).map((one) => segmentText(one).replace(/: (?=[^:]*$)/, " scores ")),
    };
  });
}

function taxaOf({ compiled }: Batch, { one }: SampleRoad): ReportTaxon[] {
  if (one === undefined) return [];
  const { taxa, counts, total } = one.community;
  const { tree } = compiled;
  const tolerance = compiled.attributes.get("tolerance");
  return Array.from(taxa, (taxon, at) => {
    const count = counts[at] as number;
    return {
      taxon: tree.nameOf(taxon),
      group: tree.commonGroups[taxon] as string,
      count,
      share: total === 0 ? 0 : (count * 100) / total,
      tolerance:
        tolerance?.has[taxon] === 1 ? (tolerance.scaled[taxon] as number) / tolerance.scale : undefined,
    };
  });
}

/** How the sample was brought to its count, in a sentence. */
function drawText({ prepared, score }: SampleRoad): string {
  const kept = score.individualsScored;
  if (prepared.kind === "stopped" || kept === undefined) return "";
  if (kept === 0) return "None is left to score.";
  const { status, target, seed, algorithm } = prepared.draw;
  switch (status) {
    case "drawn":
      return `Of these, ${kept} were drawn at random for the score (target ${target}, seed ${seed}, ${algorithm}): the same seed draws the same animals again.`;
    case "under-target":
      return `That is less than the ${target} asked for, so all of them were scored.`;
    default:
      return "All of them were scored.";
  }
}
