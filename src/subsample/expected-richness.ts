/** The number of taxa to expect in a random draw, and how far single draws scatter around it. */
export interface ExpectedRichness {
  /** Mean number of taxa over all possible draws. */
  readonly expected: number;
  /** Standard deviation of the number of taxa of one draw around that mean; 0 where every draw has the same. */
  readonly standardError: number;
}

/**
 * The number of taxa expected among `n` animals drawn without replacement, and its standard error.
 *
 * Expectation: S - sum over taxa of C(N - N_i, n) / C(N, n) (Hurlbert SH 1971, The nonconcept of species
 * diversity, Ecology 52:577-586). Variance: Heck KL, van Belle G & Simberloff D 1975, Explicit calculation of
 * the rarefaction diversity measurement and the determination of sufficient sample size, Ecology 56:1459-1461.
 *
 * @param counts animals of each taxon, whole numbers; taxa without animals change nothing
 * @param n animals to be drawn, a whole number from 0 to the total of the counts
 * @throws RangeError when a count is not a whole number, or n is not one from 0 to the total: the expectation
 *   for more animals than there are is not defined
 */
export function expectedRichness(counts: ArrayLike<number>, n: number): ExpectedRichness {
  const { groups, taxa, total } = abundanceGroups(counts, n);
  const expected = expectation(groups, taxa, total, n);
  // In these cases every draw has the same number of taxa; rounding would leave a trace of a variance.
  if (n <= 1 || n === total || taxa <= 1 || taxa === total) return { expected, standardError: 0 };
  return { expected, standardError: Math.sqrt(Math.max(0, variance(groups, total, n))) };
}

/**
 * Only the expectation of `expectedRichness`: quicker where the standard error is not wanted.
 *
 * @throws RangeError in the same cases
 */
export function meanRichness(counts: ArrayLike<number>, n: number): number {
  const { groups, taxa, total } = abundanceGroups(counts, n);
  return expectation(groups, taxa, total, n);
}

/** Taxa of the same abundance behave alike, so they are worked out once. */
interface AbundanceGroup {
  readonly abundance: number;
  readonly taxa: number;
}

interface Abundances {
  /** In ascending order of abundance, so that the order of the counts never changes the last bit of a sum. */
  readonly groups: readonly AbundanceGroup[];
  readonly taxa: number;
  readonly total: number;
}

function abundanceGroups(counts: ArrayLike<number>, n: number): Abundances {
  const taxaOf = new Map<number, number>();
  let total = 0;
  let taxa = 0;
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    if (!Number.isSafeInteger(count) || count < 0)
      throw new RangeError(`expected richness needs whole numbers of animals, not ${count}`);
    if (count === 0) continue;
    taxa++;
    total += count;
    taxaOf.set(count, (taxaOf.get(count) ?? 0) + 1);
  }
  if (!Number.isSafeInteger(total)) throw new RangeError("the counts add up to more than 2^53 - 1 animals");
  if (!Number.isSafeInteger(n) || n < 0 || n > total)
    throw new RangeError(`cannot expect anything of ${n} animals drawn from ${total}`);
  const groups = [...taxaOf].map(([abundance, number]) => ({ abundance, taxa: number }));
  return { groups: groups.sort((a, b) => a.abundance - b.abundance), taxa, total };
}

function expectation(groups: readonly AbundanceGroup[], taxa: number, total: number, n: number): number {
  if (n === total) return taxa;
  if (n <= 1 || taxa === total) return n;
  let sum = 0;
  for (const group of groups) sum += group.taxa * (1 - missShare(total, group.abundance, n));
  return sum;
}

function variance(groups: readonly AbundanceGroup[], total: number, n: number): number {
  const missed = groups.map((group) => missShare(total, group.abundance, n));
  let sum = 0;
  for (const [i, group] of groups.entries()) {
    const miss = missed[i] as number;
    sum += group.taxa * miss * (1 - miss);
    for (let j = 0; j <= i; j++) {
      const other = groups[j] as AbundanceGroup;
      const pairs = i === j ? (group.taxa * (group.taxa - 1)) / 2 : group.taxa * other.taxa;
      if (pairs === 0 || miss === 0) continue;
      // Both missed: the first missed, and the other missed among the animals that are not of the first.
      const bothMissed = miss * missShare(total - group.abundance, other.abundance, n);
      sum += 2 * pairs * (bothMissed - miss * (missed[j] as number));
    }
  }
  return sum;
}

/**
 * C(total - abundance, n) / C(total, n): the probability that a draw of n misses all animals of one taxon.
 *
 * It is worked out as the shorter of its two products, each factor of which is below 1, so nothing overflows
 * and nothing cancels at any size; differences of logarithms of factorials would lose half of the digits in a
 * sample of a thousand million.
 */
function missShare(total: number, abundance: number, n: number): number {
  const terms = Math.min(abundance, n);
  const others = total - Math.max(abundance, n);
  if (others < terms) return 0;
  let share = 1;
  for (let i = 0; i < terms && share > 0; i++) share *= (others - i) / (total - i);
  return share;
}
