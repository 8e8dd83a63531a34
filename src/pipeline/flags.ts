import type { Finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { compareCodePoints } from "../model/order.ts";

/**
 * The codes that stand in the flags of a sample: its errors and warnings, each once, in code point order. Notes
 * are facts and no doubts.
 *
 * @param extra codes of faults that were found before, in the rows of the sample
 */
export function flagsOf(findings: readonly Finding[], extra: readonly FindingCode[] = []): FindingCode[] {
  if (findings.length === 0 && extra.length === 0) return [];
  const codes = new Set<FindingCode>(extra);
  for (const one of findings) if (one.severity !== "note") codes.add(one.code);
  return [...codes].sort(compareCodePoints);
}
