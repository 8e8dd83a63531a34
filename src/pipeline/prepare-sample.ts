import type { FindingSink } from "../findings/collector.ts";
import type { FindingCode } from "../findings/register.ts";
import type { SampleContext } from "../model/community.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fact, fractionSorted, numericFact } from "../model/sample-facts.ts";
import { CommunityAssembler } from "../taxa/assemble.ts";
import { drawSample } from "./draw-sample.ts";
import { checkSeason, isHeldBack, stratumOf } from "./log-checks.ts";
import type { DrawResult, SampleScore } from "./result.ts";
import { gatherPiles, placeOfSample } from "./sample-piles.ts";
import type { Batch, ScoringChoices } from "./score-batch.ts";
import type { ScoringCase } from "./score-sample.ts";

/** A sample brought to the community that metrics see, or stopped on the way. */
export type PreparedSample =
  | {
      readonly kind: "ready";
      readonly one: ScoringCase;
      readonly counted: number;
      readonly draw: DrawResult;
    }
  | {
      readonly kind: "stopped";
      readonly score: Omit<SampleScore, "flags">;
      /** Codes that refused it and are not among its findings. */
      readonly faults: readonly FindingCode[];
    };

/** Brings samples of a batch to their communities: piles, jars, stratum, season, draw, taxa. */
export class SamplePreparer {
  readonly batch: Batch;
  readonly choices: ScoringChoices;
  readonly #order: Uint32Array;
  readonly #starts: Uint32Array;
  readonly #assembler: CommunityAssembler;

  constructor(batch: Batch, choices: ScoringChoices) {
    this.batch = batch;
    this.choices = choices;
    const { order, starts } = batch.table.bySample();
    this.#order = order;
    this.#starts = starts;
    this.#assembler = new CommunityAssembler({
      tree: batch.compiled.tree,
      levelOf: batch.compiled.levelOf,
      scoreAs: batch.compiled.scoreAs,
      parents: batch.compiled.set.definition.parents,
      largeRare: batch.compiled.set.definition.large_rare,
    });
  }

  /** @param sample number of the sample in the table */
  prepare(sample: number, findings: FindingSink): PreparedSample {
    const { batch, choices } = this;
    const sampleId = batch.table.samples.textOf(sample);
    const rows = this.#order.subarray(this.#starts[sample] ?? 0, this.#starts[sample + 1] ?? 0);
    const facts = batch.log.get(sampleId);
    const place = placeOfSample(batch.table, rows);
    const known = { ...knownOf(sampleId, facts), stratum: choices.stratum ?? fact(facts, "stratum") ?? "" };
    const stopped = (
      status: "refused" | "held-back",
      individualsCounted: number | undefined,
      faults: readonly FindingCode[] = [],
      stratum = known.stratum,
    ): PreparedSample => ({
      kind: "stopped",
      score: {
        ...known,
        stratum,
        status,
        individualsCounted,
        individualsScored: undefined,
        index: undefined,
        rating: "",
        metrics: [],
        draw: undefined,
      },
      faults,
    });

    const piles = gatherPiles(sampleId, rows, { ...batch, policy: batch.compiled.policy, findings });
    const faults = [...(batch.refused.get(sampleId) ?? []), ...piles.refusals];
    if (faults.length > 0) return stopped("refused", undefined, faults);
    if (isHeldBack(sampleId, facts, findings)) return stopped("held-back", piles.counted);
    const { definition } = batch.compiled.set;
    const stratum = choices.metricsOnly
      ? known.stratum
      : stratumOf(sampleId, facts, definition, choices.stratum, place, findings);
    if (stratum === undefined) return stopped("refused", piles.counted, [], "");
    if (!choices.metricsOnly) checkSeason(sampleId, facts, definition, findings);
    const drawn = drawSample(batch, choices, sampleId, piles, facts, place, findings);
    const { community } = this.#assembler.assemble(drawn.piles);
    const one: ScoringCase = { sampleId, facts, stratum, community, context: contextOf(facts), place };
    return { kind: "ready", one, counted: piles.counted, draw: drawn.result };
  }
}

/** What the log says of a sample that every result repeats. */
export function knownOf(
  sampleId: string,
  facts: SampleFacts | undefined,
): Pick<SampleScore, "sampleId" | "siteId" | "collectedOn"> {
  return {
    sampleId,
    siteId: fact(facts, "site_id") ?? "",
    collectedOn: fact(facts, "collected_on") ?? "",
  };
}

function contextOf(facts: SampleFacts | undefined): SampleContext {
  return { fractionSorted: fractionSorted(facts), areaSampledM2: numericFact(facts, "area_sampled_m2") };
}
