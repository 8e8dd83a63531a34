/**
 * Probability of a chi-square value at least as large, when only chance is at work: the upper incomplete gamma
 * function, by its series below and its continued fraction above the mean (Abramowitz M & Stegun IA 1964,
 * Handbook of Mathematical Functions, 6.5.29 and 6.5.31).
 */
export function chiSquareTail(value: number, degrees: number): number {
  const a = degrees / 2;
  const x = value / 2;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; term > sum * 1e-16; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return 1 - front * sum;
  }
  let fraction = 0;
  for (let n = 500; n >= 1; n--) fraction = (n * (n - a)) / (x + 2 * n + 1 - a - fraction);
  return front / (x + 1 - a - fraction);
}

/** Log of the gamma function of a half or whole number, exactly by its recurrence. */
function logGamma(a: number): number {
  let result = Number.isInteger(a) ? 0 : Math.log(Math.sqrt(Math.PI));
  for (let k = Number.isInteger(a) ? 1 : 0.5; k < a; k++) result += Math.log(k);
  return result;
}

/**
 * Probability that counts deviate so much from their expectations by chance. Neighbouring cells are joined
 * until at least 5 are expected in each, as is usual.
 */
export function deviationByChance(observed: readonly number[], expected: readonly number[]): number {
  let value = 0;
  let cells = 0;
  let seen = 0;
  let due = 0;
  let rest = expected.reduce((sum, count) => sum + count, 0);
  for (const [cell, count] of expected.entries()) {
    seen += observed[cell] ?? 0;
    due += count;
    rest -= count;
    if (due < 5 || (rest < 5 && cell < expected.length - 1)) continue;
    value += (seen - due) ** 2 / due;
    cells++;
    seen = 0;
    due = 0;
  }
  return chiSquareTail(value, cells - 1);
}
