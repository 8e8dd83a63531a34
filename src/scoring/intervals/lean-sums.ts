import type { WeightedEntries } from "./lean-model.ts";

/** Sum of weight x count over entries, of which `most` animals enter at most. */
export function weightedSum(
  { entries, weights }: WeightedEntries,
  counts: Float64Array,
  most: number,
): number {
  let sum = 0;
  for (let i = 0; i < entries.length; i++) {
    const count = counts[entries[i] ?? 0] ?? 0;
    sum += Math.min(count, most) * (weights[i] ?? 0);
  }
  return sum;
}

/**
 * Animals of entries, and of the most numerous of them.
 *
 * @param groups for each of `entries` the number of its group, below the length of `scratch`
 */
export function dominantAnimals(
  counts: Float64Array,
  entries: Int32Array,
  groups: Int32Array | undefined,
  together: number,
  scratch: Float64Array,
): { readonly sum: number; readonly dominant: number } {
  const size = gather(counts, entries, groups, scratch);
  let sum = 0;
  for (let i = 0; i < size; i++) sum += scratch[i] ?? 0;
  let dominant = 0;
  for (let turn = 0; turn < together; turn++) {
    let most = 0;
    let at = -1;
    for (let i = 0; i < size; i++) {
      const count = scratch[i] ?? 0;
      if (count > most) {
        most = count;
        at = i;
      }
    }
    if (at < 0) break;
    dominant += most;
    scratch[at] = 0;
  }
  return { sum, dominant };
}

const TABLE_SIZE = 4096;
const COUNT_TIMES_LOG = new Float64Array(TABLE_SIZE);
for (let n = 2; n < TABLE_SIZE; n++) COUNT_TIMES_LOG[n] = n * Math.log(n);

/** Entropy of the counts of entries in natural units, ln N - sum(n ln n) / N; NaN without animals. */
export function entropyOf(
  counts: Float64Array,
  entries: Int32Array,
  groups: Int32Array | undefined,
  scratch: Float64Array,
): number {
  const size = gather(counts, entries, groups, scratch);
  let total = 0;
  let sum = 0;
  for (let i = 0; i < size; i++) {
    const count = scratch[i] ?? 0;
    if (count <= 0) continue;
    total += count;
    sum += count < TABLE_SIZE ? (COUNT_TIMES_LOG[count] ?? 0) : count * Math.log(count);
  }
  return total === 0 ? Number.NaN : Math.max(0, Math.log(total) - sum / total);
}

/** Puts the counts of entries, or of their groups, to the front of `scratch`; returns how many they are. */
function gather(
  counts: Float64Array,
  entries: Int32Array,
  groups: Int32Array | undefined,
  scratch: Float64Array,
): number {
  if (groups === undefined) {
    for (let i = 0; i < entries.length; i++) scratch[i] = counts[entries[i] ?? 0] ?? 0;
    return entries.length;
  }
  let size = 0;
  for (let i = 0; i < groups.length; i++) size = Math.max(size, (groups[i] ?? 0) + 1);
  scratch.fill(0, 0, size);
  for (let i = 0; i < entries.length; i++) {
    const group = groups[i] ?? 0;
    scratch[group] = (scratch[group] ?? 0) + (counts[entries[i] ?? 0] ?? 0);
  }
  return size;
}
