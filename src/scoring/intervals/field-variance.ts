import { meanOf } from "./interval.ts";

/**
 * What the place in the stream adds to the variance of a score: the pooled within-site variance of duplicates less
 * the mean variance that subsampling alone gives their samples, and not below 0. Duplicates differ by both, so
 * that adding their variance as it is would count subsampling twice.
 *
 * @param withinSite pooled within-site variance (mean square of the analysis of variance)
 * @param subsampling variance by subsampling of each sample, group by group; a group of k samples counts k - 1
 *   times, as it does in the pooled variance
 */
export function fieldVariance(withinSite: number, subsampling: readonly (readonly number[])[]): number {
  let sum = 0;
  let degrees = 0;
  for (const group of subsampling) {
    sum += meanOf(group) * (group.length - 1);
    degrees += group.length - 1;
  }
  return degrees === 0 ? 0 : Math.max(0, withinSite - sum / degrees);
}
