import { at } from "../../model/at.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { valueAsNumber } from "../../model/metric-value.ts";
import { numberText } from "../../model/number-text.ts";
import type { ArithmeticPart } from "./arithmetic.ts";

/** Sums over the taxa that take part. */
interface DiversitySums {
  /** Animals. */
  readonly n: number;
  /** Taxa as richness counts them, and records that have animals. */
  readonly taxa: number;
  readonly records: number;
  /** Sum of n squared, and of n ln n. */
  readonly squares: number;
  readonly logs: number;
}

interface Line {
  readonly text: string;
  readonly value: number;
}

const t = numberText;
const finite = ({ n, squares }: DiversitySums) => `${t(squares - n)} / (${t(n)} x ${t(n - 1)})`;
const finiteValue = ({ n, squares }: DiversitySums) => (squares - n) / (n * (n - 1));

/** Shannon's index by the same sum in another form: H' = ln N - sum(n ln n) / N, so that only two totals are needed. */
function shannon(base: "" | "2" | "10") {
  const divisor = base === "" ? 1 : Math.log(Number(base));
  return ({ n, logs }: DiversitySums): Line => {
    const inner = `ln ${t(n)} - ${t(logs)} / ${t(n)}`;
    return {
      text:
        base === ""
          ? `ln N - sum(n ln n) / N: ${inner}`
          : `(ln N - sum(n ln n) / N) / ln ${base}: (${inner}) / ln ${base}`,
      value: (Math.log(n) - logs / n) / divisor,
    };
  };
}

const FORMULAS: ReadonlyMap<string, (sums: DiversitySums) => Line> = new Map([
  ["H' = -sum(p ln p)", shannon("")],
  ["H' = -sum(p log2 p)", shannon("2")],
  ["H' = -sum(p log10 p)", shannon("10")],
  [
    "J' = H' / ln S, over the S taxa that have animals",
    (sums: DiversitySums) => {
      const { text, value } = shannon("")(sums);
      return {
        text: `(${at(text.split(": "), 1)}) / ln ${t(sums.records)}`,
        value: value / Math.log(sums.records),
      };
    },
  ],
  [
    "exp(-sum(p ln p))",
    (sums: DiversitySums) => {
      const { text, value } = shannon("")(sums);
      return { text: `exp(${at(text.split(": "), 1)})`, value: Math.exp(value) };
    },
  ],
  [
    "D = sum(p squared)",
    ({ n, squares }: DiversitySums) => ({ text: `${t(squares)} / ${t(n)} squared`, value: squares / n ** 2 }),
  ],
  [
    "1 - sum(p squared)",
    ({ n, squares }: DiversitySums) => ({
      text: `1 - ${t(squares)} / ${t(n)} squared`,
      value: 1 - squares / n ** 2,
    }),
  ],
  [
    "1 / sum(p squared)",
    ({ n, squares }: DiversitySums) => ({ text: `${t(n)} squared / ${t(squares)}`, value: n ** 2 / squares }),
  ],
  [
    "D = sum(n (n - 1)) / (N (N - 1))",
    (sums: DiversitySums) => ({ text: finite(sums), value: finiteValue(sums) }),
  ],
  [
    "1 - sum(n (n - 1)) / (N (N - 1))",
    (sums: DiversitySums) => ({ text: `1 - ${finite(sums)}`, value: 1 - finiteValue(sums) }),
  ],
  [
    "N (N - 1) / sum(n (n - 1))",
    (sums: DiversitySums) => ({
      text: `${t(sums.n)} x ${t(sums.n - 1)} / ${t(sums.squares - sums.n)}`,
      value: 1 / finiteValue(sums),
    }),
  ],
  [
    "(S - 1) / ln N, with S the taxa richness",
    ({ n, taxa }: DiversitySums) => ({
      text: `(${t(taxa)} - 1) / ln ${t(n)}`,
      value: (taxa - 1) / Math.log(n),
    }),
  ],
  [
    "S / sqrt(N), with S the taxa richness",
    ({ n, taxa }: DiversitySums) => ({ text: `${t(taxa)} / sqrt(${t(n)})`, value: taxa / Math.sqrt(n) }),
  ],
]);

/** The line of a measure of diversity; undefined when it has none or the line does not come to the value. */
export function diversityLine(
  formula: string,
  raw: MetricValue,
  parts: readonly ArithmeticPart[],
): string | undefined {
  const expected = valueAsNumber(raw);
  const line = FORMULAS.get(formula)?.(sumsOf(parts));
  if (line === undefined || expected === undefined || !Number.isFinite(line.value)) return undefined;
  const isSame = Math.abs(line.value - expected) <= 1e-9 * Math.max(1, Math.abs(expected));
  return isSame ? `${line.text} = ${numberText(expected)}` : undefined;
}

function sumsOf(parts: readonly ArithmeticPart[]): DiversitySums {
  const counted = parts.filter((part) => part.counted);
  const sum = (of: (count: number) => number) => counted.reduce((total, part) => total + of(part.count), 0);
  return {
    n: sum((count) => count),
    taxa: counted.reduce((total, part) => total + part.richness, 0),
    records: counted.filter((part) => part.count > 0).length,
    squares: sum((count) => count ** 2),
    logs: sum((count) => (count === 0 ? 0 : count * Math.log(count))),
  };
}
