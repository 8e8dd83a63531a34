import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { Exact } from "../model/exact.ts";
import type { TrayPick } from "../subsample/pick-log.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import type { CellFault } from "./count.ts";
import { countFault, plainCount } from "./count.ts";
import { readRecords, type SheetRecord } from "./records.ts";
import { parseExactShare, parseWhole } from "./values.ts";

/** A row of the pick log with where it stands and who picked. */
export interface LoggedPick extends TrayPick {
  readonly sorter: string;
  readonly place: Place;
}

/** What was picked at the trays. */
export interface PickLog {
  /** Rows of each sample in the order of the log; samples in the order in which they first appear. */
  readonly samples: ReadonlyMap<string, readonly LoggedPick[]>;
  /** Samples with an error in a row, with the codes. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly unreadable: boolean;
  readonly file: string;
  readonly digest: ReadFile;
}

/**
 * Reads a pick log: one row a sample, level and grid. A blank `picked` is a grid that has not been picked yet.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readPickLog(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<PickLog> {
  const samples = new Map<string, LoggedPick[]>();
  const read = await readRecords(
    input,
    options,
    {
      kind: "pick log",
      known: ["sample_id", "level", "grid", "picked", "portion", "sorter", "order", "note"],
      required: ["sample_id", "level", "grid", "picked"],
      extra: "ignored",
      key: "sample_id",
    },
    findings,
    (record) => {
      const picks = samples.get(record.key) ?? [];
      samples.set(record.key, picks);
      const pick = pickOf(record);
      if (pick !== undefined) picks.push(pick);
    },
  );
  return {
    samples,
    refused: read.spoilt,
    unreadable: read.unreadable,
    file: read.place,
    digest: read.digest,
  };
}

/** All faults of a row are reported before it is given up. */
function pickOf(record: SheetRecord): LoggedPick | undefined {
  const faults: (readonly [string, CellFault])[] = [];
  const level = wholeOf(record, "level", faults);
  const grid = wholeOf(record, "grid", faults);
  const picked = record.text("picked");
  const count = picked === "" ? undefined : plainCount(picked);
  if (count === -1) faults.push(["picked", countFault(picked)]);
  const portion = portionOf(record, faults);
  for (const [column, fault] of faults) record.fault(column, fault);
  if (faults.length > 0) return undefined;
  const pick = { level, grid, picked: count, sorter: record.text("sorter"), place: record.place("grid") };
  return portion === undefined ? pick : { ...pick, portion };
}

function wholeOf(record: SheetRecord, column: string, faults: (readonly [string, CellFault])[]): number {
  const text = record.text(column);
  const value = parseWhole(text);
  if (value !== undefined && value >= 1) return value;
  const message = text === "" ? `${column} is blank` : `${column} ${quoted(text)} cannot be used`;
  faults.push([column, { code: "bad-number", message, hint: "write a whole number from 1" }]);
  return 0;
}

function portionOf(record: SheetRecord, faults: (readonly [string, CellFault])[]): Exact | undefined {
  const text = record.text("portion");
  if (text === "") return undefined;
  const share = parseExactShare(text);
  if ("value" in share) return share.value;
  faults.push([
    "portion",
    { code: "bad-share", message: `portion ${quoted(text)} cannot be used`, hint: share.hint },
  ]);
  return undefined;
}
