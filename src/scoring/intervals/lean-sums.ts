/** Sum of weight x count over entries, of which `most` animals enter at most. */
export function weightedSum(
  entries: Int32Array,
  weights: Float64Array,
  counts: Int32Array,
  most: number,
): number {
  let sum = 0;
  if (most === Number.POSITIVE_INFINITY)
    for (let i = 0; i < entries.length; i++)
      sum += (counts[entries[i] as number] as number) * (weights[i] as number);
  else
    for (let i = 0; i < entries.length; i++)
      sum += Math.min(counts[entries[i] as number] as number, most) * (weights[i] as number);
  return sum;
}

/** Puts the counts of entries to the front of `into`. */
export function gather(counts: Int32Array, entries: Int32Array, into: Int32Array): void {
  for (let i = 0; i < entries.length; i++) into[i] = counts[entries[i] as number] as number;
}

/**
 * Puts the counts of groups of entries to the front of `into`.
 *
 * @param groups for each of `entries` the number of its group, below `size`
 */
export function gatherGroups(
  counts: Int32Array,
  entries: Int32Array,
  groups: Int32Array,
  size: number,
  into: Int32Array,
): void {
  for (let group = 0; group < size; group++) into[group] = 0;
  for (let i = 0; i < entries.length; i++) {
    const group = groups[i] as number;
    into[group] = (into[group] as number) + (counts[entries[i] as number] as number);
  }
}

/** The largest of some counts, 0 where there are none. */
export function largestOf(counts: Int32Array): number {
  let most = 0;
  for (let i = 0; i < counts.length; i++) most = Math.max(counts[i] as number, most);
  return most;
}

/** Sum of the first numbers of a list. */
export function sumOf(values: Int32Array, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i++) sum += values[i] as number;
  return sum;
}

/** Sum of the largest of the first numbers of a list, which are set to 0. */
export function dominantSum(values: Int32Array, size: number, together: number): number {
  let sum = 0;
  for (let turn = 0; turn < together; turn++) {
    let most = 0;
    let at = 0;
    for (let i = 0; i < size; i++) {
      const count = values[i] as number;
      if (count > most) {
        most = count;
        at = i;
      }
    }
    sum += most;
    values[at] = 0;
  }
  return sum;
}

const TABLE_SIZE = 4096;
const LOG = Float64Array.from({ length: TABLE_SIZE }, (_, n) => Math.log(n));
const COUNT_TIMES_LOG = LOG.map((log, n) => (n < 2 ? 0 : n * log));

/**
 * Entropy of the first counts of a list in natural units, ln N - sum(n ln n) / N; NaN without animals.
 *
 * @param total N, their sum
 */
export function entropyOf(values: Int32Array, size: number, total: number): number {
  if (total === 0) return Number.NaN;
  let sum = 0;
  for (let i = 0; i < size; i++) {
    const count = values[i] as number;
    sum += count < TABLE_SIZE ? (COUNT_TIMES_LOG[count] as number) : count * Math.log(count);
  }
  const log = total < TABLE_SIZE ? (LOG[total] as number) : Math.log(total);
  return Math.max(0, log - sum / total);
}
