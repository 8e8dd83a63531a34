import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { SampleContext } from "../model/community.ts";
import type { RowsBySample } from "../model/rows-by-sample.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fact, numericFact } from "../model/sample-facts.ts";
import type { Assembled, AssemblyRules } from "../taxa/assemble.ts";
import { CommunityAssembler } from "../taxa/assemble.ts";
import { BatchTaxaCollector } from "../taxa/batch-taxa.ts";
import type { CountedPile } from "../taxa/counted-pile.ts";
import type { Drawn } from "./draw-sample.ts";
import { drawSample } from "./draw-sample.ts";
import { reportUncountedJars } from "./jars-of-rows.ts";
import { checkGear, checkSeason, isHeldBack, stratumOf } from "./log-checks.ts";
import type { DrawResult, SampleScore } from "./result.ts";
import type { SamplePiles } from "./sample-piles.ts";
import { gatherPiles, placeOfSample } from "./sample-piles.ts";
import type { Batch, ScoringChoices } from "./score-batch.ts";
import type { ScoringCase } from "./score-sample.ts";
import { reportSorted } from "./sorted-of-log.ts";
import { SubtotalFinder } from "./subtotals.ts";

/** What the sheets hold of a sample. */
export interface Gathered {
  /** Row numbers, in the order of the files. */
  readonly rows: Uint32Array;
  readonly piles: SamplePiles;
}

/** A sample stopped on the way. */
export interface StoppedSample {
  readonly kind: "stopped";
  readonly score: Omit<SampleScore, "flags">;
  /** Codes that refused it and are not among its findings. */
  readonly faults: readonly FindingCode[];
  readonly gathered: Gathered;
}

/** A sample brought to the community that metrics see, or stopped on the way. */
export type PreparedSample =
  | {
      readonly kind: "ready";
      readonly one: ScoringCase;
      readonly counted: number;
      readonly draw: DrawResult;
      readonly gathered: Gathered;
      readonly drawn: Drawn;
    }
  | StoppedSample;

/** A sample after the draw, before its taxa. */
interface DrawnSample {
  readonly kind: "drawn";
  readonly sampleId: string;
  readonly facts: SampleFacts | undefined;
  readonly stratum: string;
  readonly place: Place;
  readonly gathered: Gathered;
  readonly drawn: Drawn;
}

/**
 * Brings samples of a batch to their communities: piles, jars, stratum, season, draw, taxa. Where the set looks
 * at the whole batch, all samples are drawn before the first one gets its taxa.
 */
export class SamplePreparer {
  readonly batch: Batch;
  readonly choices: ScoringChoices;
  /** How piles become taxa, the facts of the whole batch included. */
  readonly rules: AssemblyRules;
  readonly #bySample: RowsBySample;
  readonly #assembler: CommunityAssembler;
  /** Without the facts of the batch. */
  readonly #ofSample: CommunityAssembler;
  #ofOtherDraws: CommunityAssembler | undefined;
  readonly #subtotals: SubtotalFinder;

  constructor(batch: Batch, choices: ScoringChoices) {
    this.batch = batch;
    this.choices = choices;
    this.#bySample = batch.table.bySample();
    this.#subtotals = new SubtotalFinder(batch.table, batch.names);
    const { tree, levelOf, scoreAs, set } = batch.compiled;
    const rules: AssemblyRules = {
      tree,
      levelOf,
      scoreAs,
      parents: choices.parents ?? set.definition.parents,
      largeRare: set.definition.large_rare,
    };
    const ofSample = new CommunityAssembler(rules);
    this.#ofSample = ofSample;
    if (set.definition.scope === "sample") {
      this.rules = rules;
      this.#assembler = ofSample;
    } else {
      this.rules = { ...rules, batchTaxa: this.#collectTaxa(ofSample) };
      this.#assembler = new CommunityAssembler(this.rules);
    }
  }

  /** @param sample number of the sample in the table */
  prepare(sample: number, findings: FindingSink): PreparedSample {
    const drawn = this.#draw(sample, findings);
    return drawn.kind === "stopped" ? drawn : this.#withTaxa(drawn);
  }

  /** The taxon as which animals of a taxon are counted: rolled up, then as the set's scheme treats it. */
  countedAs(taxon: number): number {
    return this.#assembler.countedAs(taxon);
  }

  /**
   * The community of other draws from samples of the batch. Over a whole batch they may hold taxa of which the
   * batch's own draws took no animal, so all animals counted make the facts of the batch here.
   */
  assemble(piles: readonly CountedPile[]): Assembled {
    this.#ofOtherDraws ??=
      this.rules.batchTaxa === undefined
        ? this.#assembler
        : new CommunityAssembler({ ...this.rules, batchTaxa: this.#collectTaxa(this.#ofSample, true) });
    return this.#ofOtherDraws.assemble(piles);
  }

  /** The taxa of all samples that take part, each drawn as it will be drawn again when its turn comes. */
  #collectTaxa(assembler: CommunityAssembler, beforeDraw = false) {
    const collector = new BatchTaxaCollector(this.batch.compiled.tree);
    for (let sample = 0; sample < this.batch.table.samples.size; sample++) {
      // What there is to say of a sample is said in its turn.
      const drawn = this.#draw(sample, new FindingCollector());
      if (drawn.kind === "stopped") continue;
      const { gathered } = drawn;
      const { taxa, counts } = assembler.records(beforeDraw ? gathered.piles.columns : drawn.drawn.columns);
      collector.add(taxa, counts);
    }
    return collector.finish();
  }

  #draw(sample: number, findings: FindingSink): DrawnSample | StoppedSample {
    const { batch, choices } = this;
    const sampleId = batch.table.samples.textOf(sample);
    const rows = this.#bySample.rowsOf(sample);
    const facts = batch.facts[sample];
    const place = placeOfSample(batch.table, rows);
    const ofLog = () => choices.stratum ?? fact(facts, "stratum") ?? "";
    const piles = gatherPiles(sample, {
      table: batch.table,
      names: batch.names,
      policy: batch.compiled.policy,
      findings,
    });
    const gathered = { rows, piles };
    const one = { sampleId, facts, gathered };
    const ofRows = batch.refused.get(sampleId) ?? NO_CODES;
    if (ofRows.length > 0 || piles.refusals.length > 0)
      return stopped(one, "refused", ofLog(), undefined, [...ofRows, ...piles.refusals]);
    if (isHeldBack(sampleId, facts, findings)) return stopped(one, "held-back", ofLog(), piles.counted);
    reportUncountedJars(sampleId, rows, batch.table, facts, findings);
    const { definition } = batch.compiled.set;
    const stratum = choices.metricsOnly
      ? ofLog()
      : stratumOf(sampleId, facts, definition, choices.stratum, place, findings);
    if (stratum === undefined) return stopped(one, "refused", "", piles.counted);
    if (!choices.metricsOnly) {
      checkSeason(sampleId, facts, definition, findings);
      checkGear(sampleId, facts, definition, findings);
    }
    reportSorted(rows, batch.table, facts, findings);
    this.#subtotals.report(sampleId, rows, findings, piles);
    const drawn = drawSample(batch, choices, sampleId, piles, facts, place, findings);
    return { kind: "drawn", sampleId, facts, stratum, place, gathered, drawn };
  }

  #withTaxa({ sampleId, facts, stratum, place, gathered, drawn }: DrawnSample): PreparedSample {
    const { community } = this.#assembler.assemble(drawn.columns);
    const context = contextOf(facts, gathered.piles, drawn, community.total);
    return {
      kind: "ready",
      one: { sampleId, facts, stratum, community, context, place },
      counted: gathered.piles.counted,
      draw: drawn.result,
      gathered,
      drawn,
    };
  }
}

const NO_CODES: readonly FindingCode[] = [];

function stopped(
  { sampleId, facts, gathered }: Pick<DrawnSample, "sampleId" | "facts" | "gathered">,
  status: "refused" | "held-back",
  stratum: string,
  individualsCounted: number | undefined,
  faults: readonly FindingCode[] = [],
): StoppedSample {
  return {
    kind: "stopped",
    score: {
      ...knownOf(sampleId, facts),
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
    gathered,
  };
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

/**
 * What metrics may need beyond the community.
 *
 * The total of the whole sample is estimated from the animals counted before the draw: the draw only stands for
 * them. Counts that were expanded already are those of the whole sample. Where the parent rule left animals out,
 * the total is that of the animals still there.
 */
function contextOf(
  facts: SampleFacts | undefined,
  piles: SamplePiles,
  drawn: Drawn,
  animals: number,
): SampleContext {
  const all = piles.hasExpanded ? piles.counted : drawn.estimatedTotal;
  const isOther = piles.hasExpanded || drawn.result.status === "drawn";
  return {
    fractionSorted: drawn.fractionSorted,
    areaSampledM2: numericFact(facts, "area_sampled_m2"),
    estimatedTotal:
      isOther && all !== undefined && drawn.kept !== 0 ? (all * animals) / drawn.kept : undefined,
  };
}
