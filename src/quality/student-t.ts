/**
 * Probability that a Student's t with whole degrees of freedom lies between -t and t, by the finite series of
 * Abramowitz and Stegun 1964 (Handbook of Mathematical Functions, 26.7.3 and 26.7.4).
 *
 * @param t zero or more
 * @param degreesOfFreedom whole number, 1 or more
 */
export function studentCentralProbability(t: number, degreesOfFreedom: number): number {
  const nu = degreesOfFreedom;
  const angle = Math.atan(t / Math.sqrt(nu));
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const isOdd = nu % 2 === 1;
  if (nu === 1) return (2 * angle) / Math.PI;
  // Odd: cos + (2/3) cos^3 + (2 4)/(3 5) cos^5 ...; even: 1 + (1/2) cos^2 + (1 3)/(2 4) cos^4 ...
  let term = isOdd ? cos : 1;
  let sum = term;
  for (let power = isOdd ? 3 : 2; power <= nu - 2; power += 2) {
    term *= ((power - 1) / power) * cos * cos;
    sum += term;
  }
  return isOdd ? (2 / Math.PI) * (angle + sin * sum) : sin * sum;
}

/** Beyond this many degrees of freedom the quantile is closer to the normal one than any figure here is printed. */
const MANY = 100_000;

/**
 * The value that a Student's t stays below with a probability: 0.95 gives the factor of a two-sided 90 percent
 * interval.
 *
 * @param probability from 0.5 up to, but not including, 1
 * @param degreesOfFreedom whole number, 1 or more; more than 100,000 are treated as 100,000
 * @throws RangeError for anything else
 */
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  if (!(probability >= 0.5 && probability < 1))
    throw new RangeError(`not a probability of 0.5 to 1: ${probability}`);
  if (!Number.isSafeInteger(degreesOfFreedom) || degreesOfFreedom < 1)
    throw new RangeError(`not a whole number of degrees of freedom: ${degreesOfFreedom}`);
  const nu = Math.min(degreesOfFreedom, MANY);
  const wanted = 2 * probability - 1;
  let low = 0;
  let high = 1;
  while (studentCentralProbability(high, nu) < wanted) high *= 2;
  // Halving until the two ends are neighbours: slow, sure, and the same on every machine.
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return high;
    if (studentCentralProbability(middle, nu) < wanted) low = middle;
    else high = middle;
  }
}
