import { prepareMetric } from "../metrics/prepare.ts";
import { closestMetrics, findMetric } from "../metrics/registry.ts";
import type { SetMetric } from "./compiled-set.ts";
import type { Batch } from "./score-batch.ts";

/**
 * A batch that works out other metrics than its set's: those of the set by their column names, and any other of
 * the catalogue with its default settings.
 *
 * @param ids undefined leaves the set's metrics
 */
export function withMetrics(
  batch: Batch,
  ids: readonly string[] | undefined,
): { readonly batch: Batch } | { readonly problems: readonly string[] } {
  if (ids === undefined) return { batch };
  const { tree, attributes, metrics: own } = batch.compiled;
  const problems: string[] = [];
  const metrics: SetMetric[] = [];
  for (const id of ids) {
    const known = own.find((metric) => metric.id === id);
    const entry = findMetric(id);
    if (known !== undefined) metrics.push(known);
    else if (entry === undefined) {
      const close = closestMetrics(id);
      problems.push(
        `no metric is called "${id}"${close.length === 0 ? "" : ` (close: ${close.join(", ")})`}`,
      );
    } else {
      const prepared = prepareMetric(entry, {}, { tree, attributes });
      if ("problems" in prepared) problems.push(...prepared.problems.map((problem) => `${id}: ${problem}`));
      else {
        const { needs, range } = entry;
        metrics.push({ id, roundTo: undefined, prepared: prepared.metric, needs, range });
      }
    }
  }
  if (problems.length > 0) return { problems };
  return { batch: { ...batch, compiled: { ...batch.compiled, metrics } } };
}
