import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { type Exact, ONE } from "../model/exact.ts";
import type { SortingCheck } from "../quality/sorting.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { countOf } from "./record-values.ts";
import { readRecords, type SheetRecord } from "./records.ts";
import { parseExactShare } from "./values.ts";

/** A check of a sorted sample with who sorted it and where it is written. */
export interface LoggedSortingCheck extends SortingCheck {
  /** Empty when the sheet does not say. */
  readonly sorter: string;
  readonly place: Place;
}

/** The checks of sorted samples, in the order of the sheet. */
export interface SortingChecks {
  readonly checks: readonly LoggedSortingCheck[];
  /** Samples with an error in a row, with the codes; their rows are not among the checks. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly unreadable: boolean;
  readonly file: string;
  readonly digest: ReadFile;
}

/**
 * Reads a sheet of sorting checks: sample_id, sorted_count, recovered_count, the share of the residue that was
 * checked (all of it when blank), sorter.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readSortingChecks(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<SortingChecks> {
  const checks: LoggedSortingCheck[] = [];
  const read = await readRecords(
    input,
    options,
    {
      kind: "sheet of sorting checks",
      known: ["sample_id", "sorted_count", "recovered_count", "fraction_checked", "sorter", "note"],
      required: ["sample_id", "sorted_count", "recovered_count"],
      extra: "ignored",
      key: "sample_id",
    },
    findings,
    (record) => {
      const sorted = countOf(record, "sorted_count");
      const recovered = countOf(record, "recovered_count");
      const fractionChecked = shareOf(record);
      if (sorted === undefined || recovered === undefined || fractionChecked === undefined) return;
      checks.push({
        sampleId: record.key,
        sorted,
        recovered,
        fractionChecked,
        sorter: record.text("sorter"),
        place: record.place("sample_id"),
      });
    },
  );
  return {
    checks,
    refused: read.spoilt,
    unreadable: read.unreadable,
    file: read.place,
    digest: read.digest,
  };
}

function shareOf(record: SheetRecord): Exact | undefined {
  const text = record.text("fraction_checked");
  if (text === "") return ONE;
  const share = parseExactShare(text);
  if ("value" in share) return share.value;
  record.fault("fraction_checked", {
    code: "bad-share",
    message: `fraction_checked ${quoted(text)} cannot be used`,
    hint: share.hint,
  });
  return undefined;
}
