import { FileError } from "../files/file-error.ts";
import { compareCodePoints } from "../model/order.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { packageRows } from "../reference/package-table.ts";
import { LogRows } from "../sheets/log-rows.ts";
import type { SampleLog } from "../sheets/sample-log.ts";
import { RUN_FILES } from "./run-files.ts";
import type { RunInput, RunRecord } from "./run-record.ts";
import type { RunFolder } from "./run-table.ts";
import { cellOf, readRunText, runTableText, wholeOf } from "./run-table.ts";
import type { StoredSamples } from "./stored-samples.ts";

/** The column before those of the log itself: the line the row stood in. */
const LINE = "line";

/** The columns of a log in the order of their fields, for run.json. */
export function logFields(log: SampleLog): NonNullable<RunRecord["sample_log_fields"]> {
  const [facts] = log.samples.values();
  return [...(facts?.columns ?? [])]
    .map(([column, field]) => ({ column, field }))
    .sort((a, b) => a.field - b.field);
}

/** The text of sample-log.csv: one row a sample, sorted by sample id. */
export function logText(log: SampleLog): string {
  const fields = logFields(log);
  const rows = [...log.samples.values()].sort((a, b) => compareCodePoints(a.sampleId, b.sampleId));
  return runTableText(
    [LINE, ...fields.map(({ column }) => column)],
    rows.map((facts) => [String(facts.line), ...fields.map(({ column }) => facts.texts.get(column) ?? "")]),
  );
}

/** Reads sample-log.csv. @throws FileError naming the line of a fault */
export async function readLog(
  folder: RunFolder,
  fields: NonNullable<RunRecord["sample_log_fields"]>,
  input: RunInput,
  refused: StoredSamples["byLog"],
): Promise<SampleLog> {
  const shown = `${folder.shownAs}/${RUN_FILES.sampleLog}`;
  const text = await readRunText(folder, RUN_FILES.sampleLog);
  // The columns are taken by their place: a log may have a column of its own that is called "line".
  const { rows } = packageRows(shown, text, [LINE, ...fields.map(({ column }) => column)]);
  const log = new LogRows({
    names: fields.map(({ column }) => column),
    fields: new Map(fields.map(({ column, field }) => [column, field])),
    file: input.file,
  });
  const key = fields.findIndex(({ column }) => column === "sample_id");
  const samples = new Map<string, SampleFacts>();
  for (const row of rows) {
    const sampleId = cellOf(row, key + 1);
    if (samples.has(sampleId)) throw new FileError(shown, `line ${row.line}: the sample is there already`);
    const texts = fields.map((_, at) => cellOf(row, at + 1));
    samples.set(sampleId, log.add(sampleId, texts, wholeOf(row, 0, shown)));
  }
  const order = [...samples.values()].sort((a, b) => a.line - b.line).map((facts) => facts.sampleId);
  const { file, sha256, bytes, rows: count } = input;
  return { samples, order, refused, unreadable: false, file, digest: { file, sha256, bytes, rows: count } };
}
