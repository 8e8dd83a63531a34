import type { Exact } from "../model/exact.ts";
import { simplify } from "../model/exact.ts";
import type { SheetCounts } from "./match-sheets.ts";
import { percentOf } from "./percent.ts";

/**
 * Bray-Curtis similarity of two sheets in percent, 100 x (1 - sum |a - b| / sum (a + b)) = 200 x (animals with
 * the same name) / (n1 + n2); Bray and Curtis 1957, Ecol. Monogr. 27:325-349. Undefined when both are empty.
 */
export function brayCurtisSimilarity(a: SheetCounts, b: SheetCounts): Exact | undefined {
  return percentOf(whole(2n * shared(a, b, 1n, 1n)), whole(totalOf(a) + totalOf(b)));
}

/**
 * Percent similarity of two sheets, 100 x sum min(p, q) over the shares of each name (Renkonen 1938, Ann. Zool.
 * Soc. Zool.-Bot. Fenn. Vanamo 6:1-231). Undefined when one is empty. Unlike the Bray-Curtis similarity it does
 * not see a difference in the totals.
 */
export function percentSimilarity(a: SheetCounts, b: SheetCounts): Exact | undefined {
  const totalA = totalOf(a);
  const totalB = totalOf(b);
  if (totalA === 0n || totalB === 0n) return undefined;
  // min(x / A, y / B) = min(x B, y A) / (A B)
  return percentOf(whole(shared(a, b, totalB, totalA)), whole(totalA * totalB));
}

/** Products of two totals may be beyond 53 bits. */
function shared(a: SheetCounts, b: SheetCounts, timesA: bigint, timesB: bigint): bigint {
  let sum = 0n;
  for (const [taxon, count] of a) {
    const x = BigInt(count) * timesA;
    const y = BigInt(b.get(taxon) ?? 0) * timesB;
    sum += x < y ? x : y;
  }
  return sum;
}

function totalOf(counts: SheetCounts): bigint {
  let sum = 0n;
  for (const count of counts.values()) sum += BigInt(count);
  return sum;
}

function whole(value: bigint): Exact {
  return simplify({ num: value, den: 1 });
}
