import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { Exact } from "../model/exact.ts";
import { equalExact, ONE } from "../model/exact.ts";
import type { RowTable } from "../model/rows.ts";
import { parseExactShare } from "../sheets/values.ts";

/**
 * Refuses a sample whose rows stand for different shares of what was sorted (a jar sorted in part beside one
 * sorted whole, midges of which a quarter was mounted): in their plain sum an animal of the larger share would
 * weigh more than one of the smaller. A row without mount_fraction stands for all of it.
 *
 * @param rows rows of the main part with animals that count as they were counted; rows expanded already stand for
 *   the whole and are not among them
 * @returns the code that refuses the sample, or nothing
 */
export function refuseUnequalShares(
  sampleId: string,
  rows: readonly number[],
  table: RowTable,
  findings: FindingSink,
): FindingCode | undefined {
  let first: { readonly row: number; readonly share: Exact } | undefined;
  for (const row of rows) {
    const share = shareOf(table, row);
    if (first === undefined) {
      first = { row, share };
      continue;
    }
    if (equalExact(first.share, share)) continue;
    const [here, there] = [textOf(table, row), textOf(table, first.row)];
    const where = `${there} (line ${table.lineAt(first.row)})`;
    findings.add(
      finding(
        "unequal-fractions",
        { file: table.fileAt(row), line: table.lineAt(row), column: table.columnAt(row) },
        {
          message: `rows of ${sampleId} stand for ${where} and for ${here} of what was sorted, so they cannot be summed as they are`,
          sampleId,
        },
      ),
    );
    return "unequal-fractions";
  }
  return undefined;
}

function textOf(table: RowTable, row: number): string {
  return table.rareAt(row)?.mountFraction ?? "1";
}

/** The reader has refused what is no share. */
function shareOf(table: RowTable, row: number): Exact {
  const text = table.rareAt(row)?.mountFraction;
  const share = text === undefined ? undefined : parseExactShare(text);
  return share === undefined || "hint" in share ? ONE : share.value;
}
