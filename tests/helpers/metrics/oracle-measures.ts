import type { OracleRow } from "./oracle-taxa.ts";
import { line, tolerance } from "./oracle-taxa.ts";

/** What the oracle gives for a metric: a number, or undefined when there is none. */
export type OracleMetric = (
  rows: readonly OracleRow[],
  reference: readonly OracleRow[],
) => number | undefined;

export const sum = (numbers: readonly number[]) => numbers.reduce((total, number) => total + number, 0);
export const animals = (rows: readonly OracleRow[]) => sum(rows.map(({ count }) => count));
export const richness = (rows: readonly OracleRow[]) => sum(rows.map((row) => row.richness));
export const divide = (above: number, below: number) => (below === 0 ? undefined : above / below);
export const times = (factor: number, value: number | undefined) =>
  value === undefined ? undefined : factor * value;
export const present = (rows: readonly OracleRow[]) => rows.filter(({ count }) => count > 0);
export const isTaxon = (rows: readonly OracleRow[]) => rows.filter((row) => row.richness > 0);
export const scored = (rows: readonly OracleRow[]) =>
  isTaxon(rows).flatMap((row) => {
    const score = tolerance(row);
    return score === undefined ? [] : [{ row, score }];
  });

const LOGS_OF_FACTORIALS = [0];

/** The logarithm of n!, summed factor by factor. */
export function logFactorial(n: number): number {
  while (LOGS_OF_FACTORIALS.length <= n)
    LOGS_OF_FACTORIALS.push((LOGS_OF_FACTORIALS.at(-1) ?? 0) + Math.log(LOGS_OF_FACTORIALS.length));
  return LOGS_OF_FACTORIALS[n] ?? Number.NaN;
}

function shares(rows: readonly OracleRow[]): number[] | undefined {
  const total = animals(rows);
  return total === 0 ? undefined : present(rows).map(({ count }) => count / total);
}

export function shannon(rows: readonly OracleRow[]): number | undefined {
  const p = shares(rows);
  return p === undefined ? undefined : -sum(p.map((share) => share * Math.log(share)));
}

export function squares(rows: readonly OracleRow[]): number | undefined {
  const p = shares(rows);
  return p === undefined ? undefined : sum(p.map((share) => share ** 2));
}

export function pairs(rows: readonly OracleRow[]): number | undefined {
  const total = animals(rows);
  return divide(sum(rows.map(({ count }) => count * (count - 1))), total * (total - 1));
}

export function dominant(taxa: number): OracleMetric {
  return (rows) => {
    const counts = rows.map(({ count }) => count).sort((a, b) => b - a);
    return times(100, divide(sum(counts.slice(0, taxa)), animals(rows)));
  };
}

export function meanTolerance(rows: readonly OracleRow[], most: number): number | undefined {
  const entering = rows.flatMap((row) => {
    const value = tolerance(row);
    return value === undefined ? [] : [{ count: Math.min(row.count, most), value }];
  });
  return divide(
    sum(entering.map(({ count, value }) => count * value)),
    sum(entering.map(({ count }) => count)),
  );
}

/** Mean score weighted by the last class whose start the count reaches. */
export function weighted(classes: readonly (readonly [from: number, weight: number])[]): OracleMetric {
  return (rows) => {
    const parts = scored(rows).flatMap(({ row, score }) => {
      const reached = classes.filter(([from]) => row.count >= from).at(-1);
      return reached === undefined ? [] : [{ score, weight: reached[1] }];
    });
    return divide(
      sum(parts.map(({ score, weight }) => score * weight)),
      sum(parts.map(({ weight }) => weight)),
    );
  };
}

export const CLASS_SCORES = new Map([
  ["Baetidae", [4, 6, 8]],
  ["Chironomidae", [3, 2, 1]],
]);

export function classScores(rows: readonly OracleRow[]): number[] {
  return isTaxon(rows).flatMap(({ taxon, count }) => {
    const list = CLASS_SCORES.get(line(taxon).find((name) => CLASS_SCORES.has(name)) ?? "");
    const score = list?.[count >= 100 ? 2 : count >= 10 ? 1 : count >= 1 ? 0 : -1];
    return score === undefined ? [] : [score];
  });
}

export function points(pointsOf: (value: number) => number): OracleMetric {
  return (rows) =>
    sum(rows.map((row) => row.richness * pointsOf(tolerance(row) ?? Number.POSITIVE_INFINITY)));
}

export function fisher(rows: readonly OracleRow[]): number | undefined {
  const [taxa, total] = [richness(rows), animals(rows)];
  if (taxa === 0 || taxa >= total) return undefined;
  let [low, high] = [1e-9, 1e9];
  for (let i = 0; i < 200; i++) {
    const middle = Math.sqrt(low * high);
    if (middle * Math.log(1 + total / middle) < taxa) low = middle;
    else high = middle;
  }
  return low;
}

/** Probability, by its binomial coefficients, that a draw of n misses a taxon. */
function missed(total: number, count: number, n: number): number {
  if (total - count < n) return 0;
  return Math.exp(
    logFactorial(total - count) -
      logFactorial(total - count - n) -
      logFactorial(total) +
      logFactorial(total - n),
  );
}

export function expected(n: number): OracleMetric {
  return (rows) => {
    const total = animals(rows);
    return total < n || total === 0
      ? undefined
      : sum(present(rows).map(({ count }) => 1 - missed(total, count, n)));
  };
}

export function expectedError(n: number): OracleMetric {
  return (rows) => {
    const total = animals(rows);
    if (total < n || total === 0) return undefined;
    const counts = present(rows).map(({ count }) => count);
    const q = counts.map((count) => missed(total, count, n));
    let variance = 0;
    for (const [i, a] of counts.entries()) {
      for (const [j, b] of counts.entries()) {
        const both = i === j ? (q[i] ?? 0) : missed(total, a + b, n);
        variance += both - (q[i] ?? 0) * (q[j] ?? 0);
      }
    }
    return Math.sqrt(Math.max(0, variance));
  };
}

export function chao(rows: readonly OracleRow[]): number | undefined {
  const counts = present(rows).map(({ count }) => count);
  const [one, two] = [1, 2].map((n) => counts.filter((count) => count === n).length);
  return counts.length === 0
    ? undefined
    : counts.length + ((one ?? 0) * ((one ?? 0) - 1)) / (2 * ((two ?? 0) + 1));
}

/** The variance of Chao1 with its derivatives taken numerically, class of abundance by class of abundance. */
export function chaoError(rows: readonly OracleRow[]): number | undefined {
  const counts = present(rows).map(({ count }) => count);
  const estimate = chao(rows);
  if (estimate === undefined) return undefined;
  const numbers = [...new Set(counts)].map((n) => ({
    n,
    taxa: counts.filter((count) => count === n).length,
  }));
  const value = (extra: number, at: number) => {
    const f = (n: number) => (numbers.find((one) => one.n === n)?.taxa ?? 0) + (n === at ? extra : 0);
    return counts.length + extra + (f(1) * (f(1) - 1)) / (2 * (f(2) + 1));
  };
  const step = 1e-4;
  const slopes = numbers.map(({ n, taxa }) => ({ taxa, g: (value(step, n) - value(-step, n)) / (2 * step) }));
  const mean = sum(slopes.map(({ taxa, g }) => taxa * g));
  return Math.sqrt(Math.max(0, sum(slopes.map(({ taxa, g }) => taxa * g * g)) - mean ** 2 / estimate));
}

export function ace(rows: readonly OracleRow[]): number | undefined {
  const counts = present(rows).map(({ count }) => count);
  if (counts.length === 0) return undefined;
  const rare = counts.filter((count) => count <= 10);
  if (rare.length === 0) return counts.length;
  const once = rare.filter((count) => count === 1).length;
  const coverage = 1 - once / sum(rare);
  if (coverage === 0) return undefined;
  const spread =
    ((rare.length / coverage) * sum(rare.map((n) => n * (n - 1)))) / sum(rare) / (sum(rare) - 1) - 1;
  return counts.length - rare.length + rare.length / coverage + (once / coverage) * Math.max(spread, 0);
}

export function mcintosh(
  rows: readonly OracleRow[],
  furthest: (total: number, taxa: number) => number,
): number | undefined {
  const total = animals(rows);
  const taxa = present(rows).length;
  const length = Math.sqrt(sum(rows.map(({ count }) => count ** 2)));
  return total === 0 || furthest(total, taxa) === total
    ? undefined
    : (total - length) / (total - furthest(total, taxa));
}

export function common(
  rows: readonly OracleRow[],
  reference: readonly OracleRow[],
): [number, number, number] {
  const [a, b] = [isTaxon(rows), isTaxon(reference)].map((list) => list.map(({ taxon }) => taxon));
  return [a?.length ?? 0, b?.length ?? 0, (a ?? []).filter((taxon) => (b ?? []).includes(taxon)).length];
}

export function countIn(rows: readonly OracleRow[], taxon: string): number {
  return rows.find((row) => row.taxon === taxon)?.count ?? 0;
}
