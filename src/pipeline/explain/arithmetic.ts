import type { SampleContext } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import {
  add,
  compareExact,
  divide,
  equalExact,
  exactOf,
  isZero,
  multiply,
  parseDecimal,
  roundExact,
  toNumber,
  ZERO,
} from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { numberText } from "../../model/number-text.ts";
import { diversityLine } from "./diversity-arithmetic.ts";

/** What a line of arithmetic is made from: one taxon's part in a metric. */
export interface ArithmeticPart {
  readonly count: number;
  readonly richness: number;
  readonly counted: boolean;
  readonly value: string;
  readonly why: string;
}

interface Line {
  readonly text: string;
  readonly value: Exact;
}

/** Totals of the parts. */
class Sums {
  readonly parts: readonly ArithmeticPart[];

  constructor(parts: readonly ArithmeticPart[]) {
    this.parts = parts;
  }

  of(what: (part: ArithmeticPart) => Exact, holds = (part: ArithmeticPart) => part.counted): Exact {
    return this.parts.reduce((sum, part) => (holds(part) ? add(sum, what(part)) : sum), ZERO);
  }
}

const animals = (part: ArithmeticPart) => exactOf(part.count);
const taxa = (part: ArithmeticPart) => exactOf(part.richness);
const one = () => exactOf(1);
const value = (part: ArithmeticPart) => parseDecimal(part.value) ?? ZERO;
const isInWhole = (part: ArithmeticPart) => !part.why.startsWith("outside the whole");
const isAbove = (part: ArithmeticPart) => part.counted && part.why.startsWith("above");
const isBelow = (part: ArithmeticPart) =>
  part.counted && (part.why.startsWith("below") || part.why.startsWith("above and below"));
/** Animals that enter where the metric takes a few of each taxon only ("10 of 23 animals enter"). */
const entering = (part: ArithmeticPart) =>
  exactOf(Number(/^(\d+) of \d+ animals enter/u.exec(part.why)?.[1] ?? part.count));

/** The number in what is said of a taxon's part; nothing where it says none. */
const numberIn = (part: ArithmeticPart, pattern: RegExp) =>
  parseDecimal(pattern.exec(part.why)?.groups?.number ?? "") ?? ZERO;

/** "weight 3 by its class of abundance" */
const weight = (part: ArithmeticPart) => numberIn(part, /^weight (?<number>\S+)/u);
/** "3 points", "2 x 3 points" */
const points = (part: ArithmeticPart) => {
  const times = Number(/^(\d+) x /u.exec(part.why)?.[1] ?? 1);
  return multiply(exactOf(times), numberIn(part, /^(?:\d+ x )?(?<number>\S+) points?/u));
};

/** Formulas of the catalogue and the lines that work them out. The first line that gives the value is printed. */
const FORMULAS: readonly {
  readonly pattern: RegExp;
  readonly lines: (sums: Sums, context: SampleContext) => readonly (Line | undefined)[];
}[] = [
  {
    pattern: /^sum of what each taxon|^number of taxa/u,
    lines: (sums) => [
      { text: `${addends(sums, taxa)}`, value: sums.of(taxa) },
      { text: `${addends(sums, one)}`, value: sums.of(one) },
    ],
  },
  {
    pattern: /`above`|^EPT animals \/|^scrapers \//u,
    lines: (sums) => [
      quotient(sums.of(animals, isAbove), sums.of(animals, isBelow)),
      quotient(sums.of(taxa, isAbove), sums.of(taxa, isBelow)),
    ],
  },
  {
    pattern: /^(100 x )?animals (that pass|of the)|^d = n\(max\)/u,
    lines: (sums) => shares(sums, animals),
  },
  { pattern: /^(100 x )?taxa that pass \/ /u, lines: (sums) => shares(sums, taxa) },
  {
    pattern: /^sum\(n x t\)|^sum\(min\(n, 10\) x t\)/u,
    lines: (sums) => [
      quotient(
        sums.of((part) => multiply(entering(part), value(part))),
        sums.of(entering),
      ),
    ],
  },
  {
    pattern: /^sum\(w x t\)/u,
    lines: (sums) => [
      quotient(
        sums.of((part) => multiply(weight(part), value(part))),
        sums.of(weight),
      ),
    ],
  },
  {
    pattern: /points|^\d x taxa of/u,
    lines: (sums) => [
      { text: addends(sums, points), value: sums.of(points) },
      { text: addends(sums, value), value: sums.of(value) },
    ],
  },
  {
    pattern: /^(20 x )?sum of t/u,
    lines: (sums) => {
      const sum = sums.of((part) => multiply(value(part), taxa(part)));
      const number = sums.of(taxa);
      return [
        { text: addends(sums, (part) => multiply(value(part), taxa(part))), value: sum },
        quotient(sum, number),
        quotient(sum, number, 20),
      ];
    },
  },
  { pattern: /^sum over groups of the smaller/u, lines: (sums) => [affinity(sums)] },
  {
    pattern: /^sum\(n\)/u,
    lines: (sums, { fractionSorted, estimatedTotal, areaSampledM2 }) => {
      const part = sums.of(animals);
      const all = sums.of(animals, () => true);
      const whole: Line | undefined =
        estimatedTotal !== undefined && !isZero(all)
          ? {
              text: `${text(part)} / ${text(all)} x ${numberText(estimatedTotal)}`,
              value: divide(multiply(part, exactOf(estimatedTotal)), all),
            }
          : fractionSorted === undefined
            ? undefined
            : {
                text: `${text(part)} / ${numberText(fractionSorted)}`,
                value: divide(part, exactOf(fractionSorted)),
              };
      const plain = { text: text(part), value: part };
      return [plain, whole, perArea(whole, areaSampledM2), perArea(plain, areaSampledM2)];
    },
  },
];

/**
 * The numbers of a sample put into the formula of a metric, as in "100 x 19 / 85 = 22.3529411765". A line is
 * given only when it comes to the very value of the metric, so that it can never say something else.
 *
 * @returns undefined for formulas that need more than one line
 */
export function arithmeticOf(
  formula: string,
  raw: MetricValue,
  parts: readonly ArithmeticPart[],
  context: SampleContext,
): string | undefined {
  if (raw.kind === "missing") return undefined;
  const diversity = diversityLine(formula, raw, parts);
  if (diversity !== undefined || raw.kind === "real") return diversity;
  const known = FORMULAS.find(({ pattern }) => pattern.test(formula));
  const sums = new Sums(parts);
  const fits = known
    ?.lines(sums, context)
    .find((line) => line !== undefined && isSame(line.value, raw.value));
  return fits === undefined ? undefined : `${fits.text} = ${text(raw.value)}`;
}

/** Metrics with a division by a decimal number are rounded to nine decimals. */
function isSame(a: Exact, b: Exact): boolean {
  return equalExact(a, b) || equalExact(roundExact(a, 9), b);
}

function shares(sums: Sums, what: (part: ArithmeticPart) => Exact): (Line | undefined)[] {
  const part = sums.of(what);
  const whole = sums.of(what, isInWhole);
  return [quotient(part, whole, 100), quotient(part, whole)];
}

/** Of each group of a model the smaller of what is observed and modelled; groups that are not there add nothing. */
function affinity(sums: Sums): Line {
  const all = sums.of(animals);
  const observed = new Map<string, { percent: Exact; model: Exact }>();
  for (const part of sums.parts.filter(({ counted }) => counted)) {
    const model = numberIn(part, /^(?<number>\S+) percent in the model/u);
    const percent = isZero(all) ? ZERO : divide(multiply(exactOf(100), animals(part)), all);
    const before = observed.get(part.value)?.percent ?? ZERO;
    observed.set(part.value, { percent: add(before, percent), model });
  }
  const terms = [...observed].map(([group, { percent, model }]) => ({
    group,
    smaller: compareExact(percent, model) < 0 ? percent : model,
  }));
  return {
    text: terms.map(({ group, smaller }) => `${group} ${text(smaller)}`).join(" + "),
    value: terms.reduce((sum, { smaller }) => add(sum, smaller), ZERO),
  };
}

function quotient(above: Exact, below: Exact, times?: number): Line | undefined {
  if (isZero(below)) return undefined;
  return {
    text: `${times === undefined ? "" : `${times} x `}${text(above)} / ${text(below)}`,
    value: divide(multiply(exactOf(times ?? 1), above), below),
  };
}

function perArea(whole: Line | undefined, area: number | undefined): Line | undefined {
  if (whole === undefined || area === undefined || !(area > 0)) return undefined;
  return { text: `${whole.text} / ${numberText(area)}`, value: divide(whole.value, exactOf(area)) };
}

/** "1 + 1 + 2", or "22 x 1" when there are many alike. */
function addends(sums: Sums, what: (part: ArithmeticPart) => Exact): string {
  const times = new Map<string, number>();
  for (const part of sums.parts) {
    if (!part.counted) continue;
    const shown = text(what(part));
    times.set(shown, (times.get(shown) ?? 0) + 1);
  }
  const terms = [...times].map(([shown, number]) => (number === 1 ? shown : `${number} x ${shown}`));
  return terms.length === 0 ? "nothing to add" : terms.join(" + ");
}

function text(exact: Exact): string {
  return numberText(toNumber(exact));
}
