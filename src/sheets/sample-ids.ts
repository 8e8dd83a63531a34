import type { InputFile } from "../files/input.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { readRecords } from "./records.ts";

/** The sample ids of any table that has them. */
export interface SampleIds {
  readonly ids: ReadonlySet<string>;
  /** True when a fault could hide or mix up any row. */
  readonly unreadable: boolean;
  readonly digest: ReadFile;
}

/**
 * Reads the column `sample_id` of a table, whatever else is in it: a check, an earlier choice, a log.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readSampleIds(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<SampleIds> {
  const ids = new Set<string>();
  const read = await readRecords(
    input,
    options,
    { known: ["sample_id"], required: ["sample_id"], extra: "ignored", key: "sample_id" },
    findings,
    (record) => ids.add(record.key),
  );
  return { ids, unreadable: read.unreadable, digest: read.digest };
}
