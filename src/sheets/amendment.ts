import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { countOf } from "./record-values.ts";
import { readRecords, type SheetRecord } from "./records.ts";
import { parseIsoDate } from "./values.ts";

/** One correction of a count after a check. */
export interface Amendment {
  readonly sampleId: string;
  /** The name as on the bench sheet. */
  readonly taxon: string;
  /** What the sheet says now; 0 for a taxon that is not on it. */
  readonly oldCount: number;
  readonly newCount: number;
  readonly reason: string;
  /** Who decided; empty when not given. */
  readonly by: string;
  /** When, year-month-day; empty when not given. */
  readonly on: string;
  readonly place: Place;
}

/** The corrections of a batch, in the order of the file. */
export interface Amendments {
  readonly amendments: readonly Amendment[];
  /** Samples with an error in a row, with the codes. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly unreadable: boolean;
  readonly file: string;
  readonly digest: ReadFile;
}

/**
 * Reads corrections after quality control: sample_id, taxon, old_count, new_count, reason, by, on. A correction
 * without a reason is refused: it could not be defended.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readAmendments(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<Amendments> {
  const amendments: Amendment[] = [];
  const read = await readRecords(
    input,
    options,
    {
      kind: "list of amendments",
      known: ["sample_id", "taxon", "old_count", "new_count", "reason", "by", "on", "note"],
      required: ["sample_id", "taxon", "old_count", "new_count", "reason"],
      extra: "ignored",
      key: "sample_id",
    },
    findings,
    (record) => {
      const oldCount = countOf(record, "old_count");
      const newCount = countOf(record, "new_count");
      const taxon = record.text("taxon");
      const reason = record.text("reason");
      if (taxon === "") record.fault("taxon", { code: "missing-taxon", message: "the row has no taxon" });
      if (reason === "")
        record.fault("reason", { code: "missing-reason", message: "the correction has no reason" });
      const on = dateOf(record);
      if (oldCount === undefined || newCount === undefined || taxon === "" || reason === "") return;
      const { key: sampleId } = record;
      const place = record.place("new_count");
      amendments.push({ sampleId, taxon, oldCount, newCount, reason, by: record.text("by"), on, place });
    },
  );
  return {
    amendments,
    refused: read.spoilt,
    unreadable: read.unreadable,
    file: read.place,
    digest: read.digest,
  };
}

function dateOf(record: SheetRecord): string {
  const text = record.text("on");
  if (text === "") return "";
  const date = parseIsoDate(text);
  if ("date" in date) return date.date;
  record.fault("on", { code: "odd-date", message: `on ${quoted(text)} cannot be used`, hint: date.hint });
  return text;
}
