/**
 * The sum of the piles of a sample.
 *
 * @throws RangeError when a count is not a whole number of 0 or more, or the sum is beyond 2^53 - 1
 */
export function totalAnimals(counts: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    if (!Number.isSafeInteger(count) || count < 0)
      throw new RangeError(`a pile cannot hold ${count} animals: only whole animals can be drawn`);
    total += count;
  }
  if (!Number.isSafeInteger(total)) throw new RangeError("the piles hold more than 2^53 - 1 animals");
  return total;
}
