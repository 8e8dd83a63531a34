import { at } from "../../model/at.ts";
import { compareCodePoints } from "../../model/order.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact } from "../../model/sample-facts.ts";

/** Samples that are replicates of one another. */
export interface ReplicateGroup {
  /** The sample that the others name in `replicate_of`; it need not be among the samples itself. */
  readonly id: string;
  /** Numbers of the samples in the table, in the order in which they first appear. */
  readonly samples: readonly number[];
}

/**
 * Groups samples by the column `replicate_of` of the log. A sample that names none, and that no other names, is
 * a group of one. Field duplicates (`duplicate_of`) measure precision and are no replicates.
 *
 * @param sampleIds in the order in which they first appear
 */
export function replicateGroups(
  sampleIds: readonly string[],
  log: ReadonlyMap<string, SampleFacts>,
): ReplicateGroup[] {
  const groups = new Map<string, number[]>();
  sampleIds.forEach((sampleId, number) => {
    const id = primaryOf(sampleId, log);
    const known = groups.get(id);
    if (known === undefined) groups.set(id, [number]);
    else known.push(number);
  });
  return [...groups].map(([id, samples]) => ({ id, samples }));
}

/** Follows `replicate_of` to its end; samples that name one another in a circle go by the first id in it. */
function primaryOf(sampleId: string, log: ReadonlyMap<string, SampleFacts>): string {
  const met = [sampleId];
  for (let last = sampleId; ; ) {
    const next = fact(log.get(last), "replicate_of");
    if (next === undefined) return last;
    const again = met.indexOf(next);
    if (again >= 0) return at(met.slice(again).sort(compareCodePoints), 0);
    met.push(next);
    last = next;
  }
}
