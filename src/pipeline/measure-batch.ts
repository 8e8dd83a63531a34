import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { at } from "../model/at.ts";
import type { ParentMethod } from "../taxa/parents.ts";
import { PARENT_METHODS } from "../taxa/parents.ts";
import { SamplePreparer } from "./prepare-sample.ts";
import { referencesFor } from "./reference-samples.ts";
import { meanOfReplicates } from "./replicates/mean-of-replicates.ts";
import { poolReplicates } from "./replicates/pool-replicates.ts";
import { replicateGroups } from "./replicates/replicate-groups.ts";
import type { SampleScore } from "./result.ts";
import type { Batch, ScoringChoices } from "./score-batch.ts";
import { walkSample } from "./walk-sample.ts";

/** `each`: every sample by itself; `mean`: the mean of the values of the replicates; `pooled`: the value of all replicates taken as one sample. */
export const REPLICATE_VALUES = ["each", "mean", "pooled"] as const;
export type ReplicateValue = (typeof REPLICATE_VALUES)[number];

/** What metric values are wanted. */
export interface MeasureChoices extends Omit<ScoringChoices, "parents" | "metricsOnly"> {
  /** One method, or `all` of them side by side; the set's own when left out. */
  readonly parents?: ParentMethod | "all" | undefined;
  readonly replicates: ReplicateValue;
}

/** Metric values of one sample, or of a group of replicates, under one method for ambiguous parents. */
export interface Measured {
  readonly score: SampleScore;
  readonly findings: readonly Finding[];
  readonly parents: ParentMethod;
  /** Samples that the values come from. */
  readonly replicates: number;
}

/**
 * Works out the metrics of a batch and scores none. Samples, or groups of replicates, come in the order in which
 * they first appear; with all parent methods, every one comes once for each method, in the order of
 * `PARENT_METHODS`, out of the same draw.
 */
export function* measureBatch(given: Batch, choices: MeasureChoices): Generator<Measured> {
  const findings = new FindingCollector();
  const groups = replicateGroups(given.table.samples.texts, given.log);
  const isPooled = choices.replicates === "pooled";
  const batch = isPooled ? poolReplicates(given, groups, findings) : given;
  const roads = methodsOf(batch, choices).map((parents) => {
    const preparer = new SamplePreparer(batch, { ...choices, parents, metricsOnly: true });
    return { parents, preparer, references: referencesFor(preparer) };
  });
  const lots =
    choices.replicates === "mean"
      ? groups
      : batch.table.samples.texts.map((id, sample) => ({ id, samples: [sample] }));
  const sizes = new Map(groups.map(({ id, samples }) => [id, samples.length]));
  for (const { id, samples } of lots) {
    const said = new Set<string>();
    for (const { parents, preparer, references } of roads) {
      const walked = samples.map((sample) => walkSample(preparer, sample, references));
      const road = at(walked, 0);
      const one =
        choices.replicates === "mean"
          ? meanOfReplicates(batch.compiled, id, walked)
          : { ...road, replicates: isPooled ? (sizes.get(id) ?? 1) : 1 };
      const about = [...findings.all.filter((other) => other.sampleId === id), ...one.findings];
      yield { score: one.score, parents, replicates: one.replicates, findings: unsaid(about, parents, said) };
    }
  }
}

function methodsOf(
  { compiled }: Batch,
  { parents }: Pick<MeasureChoices, "parents">,
): readonly ParentMethod[] {
  return parents === "all" ? PARENT_METHODS : [parents ?? compiled.set.definition.parents];
}

/** How many times `measureBatch` yields at most. */
export function countMeasured(batch: Batch, choices: Pick<MeasureChoices, "parents" | "replicates">): number {
  const { texts } = batch.table.samples;
  const lots = choices.replicates === "each" ? texts.length : replicateGroups(texts, batch.log).length;
  return lots * methodsOf(batch, choices).length;
}

/** What a method adds to the findings of those before it: most are about the sample and the same for all. */
function unsaid(findings: readonly Finding[], parents: ParentMethod, said: Set<string>): Finding[] {
  const isFirst = said.size === 0;
  const fresh = findings.filter((one) => !said.has(`${one.code} ${one.line} ${one.message}`));
  for (const one of fresh) said.add(`${one.code} ${one.line} ${one.message}`);
  said.add("");
  return isFirst ? fresh : fresh.map((one) => ({ ...one, message: `${one.message} (parents: ${parents})` }));
}
