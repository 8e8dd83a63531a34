import type { Finding } from "../../findings/finding.ts";
import { finding, wholeFile } from "../../findings/finding.ts";
import { at } from "../../model/at.ts";
import { exactOf, toNumber } from "../../model/exact.ts";
import { fact } from "../../model/sample-facts.ts";
import { groupDuplicates } from "../../quality/duplicate-groups.ts";
import { withinSitePrecision } from "../../quality/within-site.ts";
import { fieldVariance } from "../../scoring/intervals/field-variance.ts";
import type { ResamplingPlan } from "../../scoring/intervals/plan.ts";
import type { ResamplingOutcome } from "../../scoring/intervals/resample.ts";
import type { FieldPart, Observed } from "../../scoring/intervals/resampling-job.ts";
import type { SamplePreparer } from "../prepare-sample.ts";

/** The field part of a batch. */
export interface BatchField {
  readonly partOf: ((sampleId: string) => FieldPart | undefined) | undefined;
  /** What is to be said of it once. */
  readonly finding: Finding;
}

/** A sample scored and resampled without the field. */
export interface PairMember {
  readonly observed: Observed;
  readonly outcome: ResamplingOutcome;
}

/**
 * What duplicates of the batch add to the variance of one sample. The pairs differ by place and by subsampling, so
 * the mean subsampling variance of their samples is taken off what they differ by.
 *
 * @param resampled resamples a sample by its number; undefined when it has no interval
 */
export function fieldParts(
  preparer: SamplePreparer,
  plan: ResamplingPlan,
  resampled: (sample: number) => PairMember | undefined,
): BatchField {
  const { batch } = preparer;
  const columns =
    plan.field === "both" ? (["duplicate_of", "replicate_of"] as const) : ([plan.field] as const);
  const links = [...batch.log.values()].flatMap((facts) =>
    columns.flatMap((column) => {
      const of = column === "none" ? undefined : fact(facts, column);
      return of === undefined ? [] : [{ sampleId: facts.sampleId, of }];
    }),
  );
  const groups = groupDuplicates(links)
    .groups.map(({ sampleIds }) =>
      sampleIds.flatMap((id) => {
        const sample = batch.table.samples.numberOf(id);
        const member = sample === undefined ? undefined : resampled(sample);
        return member === undefined || Number.isNaN(member.observed.index) ? [] : [member];
      }),
    )
    .filter((members) => members.length >= 2);
  const place = wholeFile([...batch.log.values()][0]?.file ?? "");
  if (groups.length === 0) {
    const message = `no two samples that ${columns.join(" or ")} joins have an index, so the field is not in the intervals`;
    return { partOf: undefined, finding: finding("no-field-variance", place, { message }) };
  }
  const members = groups.flat();
  const partOf = (numberOf: (member: PairMember) => number, varianceOf: (member: PairMember) => number) => {
    const usable = groups.map((group) => group.filter((member) => Number.isFinite(numberOf(member))));
    const within = withinSitePrecision(
      usable.map((group) => group.map((member) => exactOf(numberOf(member)))),
    );
    return within === undefined
      ? 0
      : fieldVariance(
          toNumber(within.meanSquare),
          usable.filter((group) => group.length >= 2).map((group) => group.map(varianceOf)),
        );
  };
  const part: FieldPart = {
    index: partOf(
      ({ observed }) => observed.index,
      ({ outcome }) => outcome.indexVariance,
    ),
    metrics: preparer.batch.compiled.metrics.map((_, metric) =>
      partOf(
        ({ observed }) => at(observed.values, metric),
        ({ outcome }) => at(outcome.metrics, metric).variance,
      ),
    ),
  };
  const message = `the field part of the intervals is from ${members.length} samples of ${groups.length} sites: standard deviation of the index ${Math.sqrt(part.index).toPrecision(3)}`;
  return { partOf: () => part, finding: finding("field-variance", place, { message }) };
}
