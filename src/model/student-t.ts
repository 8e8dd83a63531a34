import { normalQuantile } from "./normal-quantile.ts";

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

/** From here on the expansion below is right to seven digits. */
const EXPANDED = 30;

/**
 * The same for degrees of freedom that need not be whole, as estimated ones are not. From 30 on by the expansion of
 * Abramowitz and Stegun 1964, 26.7.5 (recalled); below that between its whole neighbours in proportion to 1 / nu.
 *
 * @param probability from 0.5 up to, but not including, 1
 * @param degreesOfFreedom 1 or more; infinity gives the normal distribution
 * @throws RangeError for anything else
 */
export function studentQuantileBetween(probability: number, degreesOfFreedom: number): number {
  const nu = degreesOfFreedom;
  if (!(nu >= EXPANDED)) {
    const whole = Math.floor(nu);
    const at = studentQuantile(probability, whole);
    if (whole === nu) return at;
    const next = studentQuantile(probability, whole + 1);
    return at + ((next - at) * (1 / nu - 1 / whole)) / (1 / (whole + 1) - 1 / whole);
  }
  const z = normalQuantile(probability);
  const s = z * z;
  return (
    z +
    (z * (s + 1)) / (4 * nu) +
    (z * ((5 * s + 16) * s + 3)) / (96 * nu ** 2) +
    (z * (((3 * s + 19) * s + 17) * s - 15)) / (384 * nu ** 3) +
    (z * ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945)) / (92160 * nu ** 4)
  );
}
