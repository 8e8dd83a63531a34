/** C(n, k) exactly. */
export function binomial(n: number, k: number): bigint {
  if (k < 0 || k > n) return 0n;
  let result = 1n;
  for (let i = 1; i <= k; i++) result = (result * BigInt(n - k + i)) / BigInt(i);
  return result;
}

/** A quotient of two large whole numbers as a floating-point number, to its last bit but one. */
export function ratio(numerator: bigint, denominator: bigint): number {
  if (numerator < 0n) return -ratio(-numerator, denominator);
  const shift = BigInt(Math.max(0, denominator.toString(2).length - numerator.toString(2).length + 64));
  return Number((numerator << shift) / denominator) / 2 ** Number(shift);
}

/** The exact probability that `target` animals out of `total` hold x of a pile of `pile` animals. */
export function hypergeometric(total: number, pile: number, target: number, x: number): number {
  return ratio(binomial(pile, x) * binomial(total - pile, target - x), binomial(total, target));
}
