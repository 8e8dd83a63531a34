import { FileError } from "../files/file-error.ts";
import type { FindingCode } from "../findings/register.ts";
import { FINDING_REGISTER } from "../findings/register.ts";
import { compareCodePoints } from "../model/order.ts";
import { RUN_FILES } from "./run-files.ts";
import type { RunFolder } from "./run-table.ts";
import { cellOf, readRunTable, runTableText } from "./run-table.ts";

const COLUMNS = ["sample_id", "refused_by_rows", "refused_by_log"] as const;

type Refusals = ReadonlyMap<string, readonly FindingCode[]>;

/** Every sample of a batch, and why its rows or its row of the log refuse it. */
export interface StoredSamples {
  /** Samples of the sheets, those included of which no row could be read; in code point order. */
  readonly ids: readonly string[];
  readonly byRows: Refusals;
  readonly byLog: Refusals;
}

/** The text of samples.csv. Samples that only the log refuses and no sheet has are not among them. */
export function samplesText(ids: readonly string[], byRows: Refusals, byLog: Refusals): string {
  const codes = (refusals: Refusals, id: string) => [...(refusals.get(id) ?? [])].sort(compareCodePoints);
  return runTableText(
    COLUMNS,
    [...ids]
      .sort(compareCodePoints)
      .map((id) => [id, codes(byRows, id).join(";"), codes(byLog, id).join(";")]),
  );
}

/** Reads samples.csv. @throws FileError naming the line of a fault */
export async function readSamples(folder: RunFolder): Promise<StoredSamples> {
  const shown = `${folder.shownAs}/${RUN_FILES.samples}`;
  const ids: string[] = [];
  const byRows = new Map<string, readonly FindingCode[]>();
  const byLog = new Map<string, readonly FindingCode[]>();
  let last: string | undefined;
  for (const row of await readRunTable(folder, RUN_FILES.samples, COLUMNS)) {
    const id = cellOf(row, 0);
    if (last !== undefined && compareCodePoints(last, id) >= 0)
      throw new FileError(shown, `line ${row.line}: the samples are not in the order of their ids`);
    last = id;
    ids.push(id);
    const [, rows, log] = row.cells as [string, string, string];
    if (rows !== "") byRows.set(id, codesOf(rows, shown, row.line));
    if (log !== "") byLog.set(id, codesOf(log, shown, row.line));
  }
  return { ids, byRows, byLog };
}

function codesOf(text: string, shown: string, line: number): FindingCode[] {
  return text.split(";").map((word) => {
    const entry = FINDING_REGISTER.find((one) => one.code === word);
    if (entry === undefined) throw new FileError(shown, `line ${line}: no finding has the code "${word}"`);
    return entry.code;
  });
}
