import { FindingCollector } from "../findings/collector.ts";
import type { Finding, Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { SampleContext } from "../model/community.ts";
import type { RowTable } from "../model/rows.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fact, fractionSorted, numericFact } from "../model/sample-facts.ts";
import { applyCountRule } from "../subsample/fixed-count.ts";
import { CommunityAssembler } from "../taxa/assemble.ts";
import type { BatchNames } from "./batch-names.ts";
import type { CompiledSet } from "./compiled-set.ts";
import { flagsOf } from "./flags.ts";
import { checkSeason, isHeldBack, stratumOf } from "./log-checks.ts";
import type { DrawResult, SampleScore, SampleStatus } from "./result.ts";
import type { SamplePiles } from "./sample-piles.ts";
import { gatherPiles, placeOfSample } from "./sample-piles.ts";
import type { ScoredCommunity, ScoringCase } from "./score-sample.ts";
import { measure, scoreCommunity } from "./score-sample.ts";

/** A batch read, named and joined with its set: everything needed to score its samples one by one. */
export interface Batch {
  readonly table: RowTable;
  /** Samples with a faulty row, and the codes of the faults. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly log: ReadonlyMap<string, SampleFacts>;
  readonly names: BatchNames;
  readonly compiled: CompiledSet;
}

/** What the user may ask for beyond the set's own rules. */
export interface ScoringChoices {
  readonly seed: string;
  /** Undefined: the set's count rule; null: no draw. */
  readonly target?: number | null | undefined;
  /** The stratum of all samples, in place of the log's. */
  readonly stratum?: string | undefined;
  /** Only metric values, no scores: a missing stratum is then no fault. */
  readonly metricsOnly?: boolean | undefined;
}

/** A sample's result with the findings about it. */
export interface ScoredSample {
  readonly score: SampleScore;
  readonly findings: readonly Finding[];
}

/**
 * Scores a batch, one sample at a time, in the order in which the samples first appear. Every sample comes out
 * exactly once: scored, flagged, held back, or refused with the reason.
 */
export function* scoreBatch(batch: Batch, choices: ScoringChoices): Generator<ScoredSample> {
  const { order, starts } = batch.table.bySample();
  const assembler = new CommunityAssembler({
    tree: batch.compiled.tree,
    levelOf: batch.compiled.levelOf,
    scoreAs: batch.compiled.scoreAs,
    parents: batch.compiled.set.definition.parents,
    largeRare: batch.compiled.set.definition.large_rare,
  });
  for (let sample = 0; sample < batch.table.samples.size; sample++) {
    const rows = order.subarray(starts[sample] ?? 0, starts[sample + 1] ?? 0);
    yield scoreOne(batch, choices, batch.table.samples.textOf(sample), rows, assembler);
  }
}

function scoreOne(
  batch: Batch,
  choices: ScoringChoices,
  sampleId: string,
  rows: Uint32Array,
  assembler: CommunityAssembler,
): ScoredSample {
  const findings = new FindingCollector();
  const facts = batch.log.get(sampleId);
  const place = placeOfSample(batch.table, rows);
  const known = {
    sampleId,
    siteId: fact(facts, "site_id") ?? "",
    collectedOn: fact(facts, "collected_on") ?? "",
    stratum: choices.stratum ?? fact(facts, "stratum") ?? "",
  };
  const done = (
    rest: Omit<SampleScore, keyof typeof known | "flags"> & { stratum?: string },
    extra: FindingCode[] = [],
  ) => ({
    score: { ...known, ...rest, flags: flagsOf(findings.all, extra) },
    findings: findings.all,
  });
  const nothing = {
    individualsScored: undefined,
    index: undefined,
    rating: "",
    metrics: [],
    draw: undefined,
  };

  const piles = gatherPiles(sampleId, rows, { ...batch, policy: batch.compiled.policy, findings });
  const faults = [...(batch.refused.get(sampleId) ?? []), ...piles.refusals];
  if (faults.length > 0)
    return done({ ...nothing, individualsCounted: undefined, status: "refused" }, faults);
  if (isHeldBack(sampleId, facts, findings)) {
    return done({ ...nothing, individualsCounted: piles.counted, status: "held-back" });
  }
  const definition = batch.compiled.set.definition;
  const stratum = choices.metricsOnly
    ? known.stratum
    : stratumOf(sampleId, facts, definition, choices.stratum, place, findings);
  if (stratum === undefined) {
    return done({ ...nothing, individualsCounted: piles.counted, status: "refused", stratum: "" });
  }
  if (!choices.metricsOnly) checkSeason(sampleId, facts, definition, findings);

  const drawn = draw(batch, choices, sampleId, piles, facts, place, findings);
  const { community } = assembler.assemble(drawn.piles);
  const one: ScoringCase = { sampleId, facts, stratum, community, context: contextOf(facts), place };
  if (community.total === 0) {
    findings.add(
      finding("no-animals", place, { message: `sample ${sampleId} has no animal that counts`, sampleId }),
    );
  }
  const least = definition.count_rule.least;
  const tooFew = !choices.metricsOnly && least !== null && community.total < least;
  if (tooFew) {
    findings.add(
      finding("few-animals", place, {
        message: `sample ${sampleId} has ${community.total} animals; the set asks for at least ${least}`,
        sampleId,
      }),
    );
  }
  const scored: ScoredCommunity = choices.metricsOnly
    ? { metrics: measure(batch.compiled, one, findings), index: undefined, rating: "" }
    : scoreCommunity(batch.compiled, one, findings);
  const hasIndex = !(tooFew && definition.count_rule.below_least === "no-index");
  const status: SampleStatus = findings.count("warning") + findings.count("error") > 0 ? "flagged" : "scored";
  return done({
    stratum,
    individualsCounted: piles.counted,
    individualsScored: community.total,
    status,
    index: hasIndex ? scored.index : undefined,
    rating: hasIndex ? scored.rating : "",
    metrics: scored.metrics,
    draw: drawn.result,
  });
}

interface DrawnPile {
  readonly taxon: number;
  readonly count: number;
  readonly largeRare: boolean;
  readonly distinct: "yes" | "no" | "";
  readonly numberOfTaxa: number;
}

/** Brings the main part of a sample to its fixed count; large and rare animals are never drawn. */
function draw(
  batch: Batch,
  choices: ScoringChoices,
  sampleId: string,
  piles: SamplePiles,
  facts: SampleFacts | undefined,
  place: Place,
  findings: FindingCollector,
): { readonly piles: readonly DrawnPile[]; readonly result: DrawResult } {
  const target =
    choices.target === undefined
      ? (batch.compiled.set.definition.count_rule.target ?? undefined)
      : (choices.target ?? undefined);
  if (target === undefined) {
    return { piles: piles.piles, result: { status: "not-drawn", target, algorithm: "", seed: choices.seed } };
  }
  if (piles.hasExpanded && piles.counted > target) {
    findings.add(
      finding("expanded-counts", place, {
        message: `sample ${sampleId} holds expanded counts, so ${target} animals cannot be drawn from its ${piles.counted}`,
        sampleId,
      }),
    );
    return { piles: piles.piles, result: { status: "not-drawn", target, algorithm: "", seed: choices.seed } };
  }
  const main = piles.piles.filter((pile) => !pile.largeRare);
  const outcome = applyCountRule({
    counts: main.map((pile) => pile.count),
    target,
    fractionSorted: fractionSorted(facts),
    seed: choices.seed,
    sampleId,
  });
  if (outcome.status === "under-target") {
    const share = fractionSorted(facts);
    findings.add(
      finding("under-target", place, {
        message: `sample ${sampleId} has ${piles.counted} of ${target} animals and ${share === undefined ? "it is not known how much of it was sorted" : `${Math.round(share * 1000) / 10} percent of it was sorted`}`,
        sampleId,
      }),
    );
  }
  const left = new Map(main.map((pile, index) => [pile, outcome.left[index] ?? 0]));
  return {
    piles: piles.piles
      .map((pile) => ({ ...pile, count: left.get(pile) ?? pile.count }))
      .filter((pile) => pile.largeRare || pile.count > 0),
    result: { status: outcome.status, target, algorithm: outcome.algorithm, seed: choices.seed },
  };
}

function contextOf(facts: SampleFacts | undefined): SampleContext {
  return { fractionSorted: fractionSorted(facts), areaSampledM2: numericFact(facts, "area_sampled_m2") };
}
