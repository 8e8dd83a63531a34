import { FileError } from "../files/file-error.ts";
import { compareCodePoints } from "../model/order.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { packageRows } from "../reference/package-table.ts";
import { LogRows } from "../sheets/log-rows.ts";
import { LogSamples } from "../sheets/log-samples.ts";
import type { SampleLog } from "../sheets/sample-log.ts";
import { LINE, plainLog, SAMPLE_ID } from "./plain-log.ts";
import { RUN_FILES } from "./run-files.ts";
import type { RunInput, RunRecord } from "./run-record.ts";
import type { RunFolder } from "./run-table.ts";
import { cellOf, readRunBytes, runTableText, wholeOf } from "./run-table.ts";
import type { StoredSamples } from "./stored-samples.ts";

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

/**
 * Reads sample-log.csv.
 *
 * @param run the samples of the run
 * @throws FileError naming the line of a fault
 */
export async function readLog(
  folder: RunFolder,
  fields: NonNullable<RunRecord["sample_log_fields"]>,
  input: RunInput,
  run: Pick<StoredSamples, "ids" | "byLog">,
): Promise<SampleLog> {
  const bytes = await readRunBytes(folder, RUN_FILES.sampleLog);
  const form = {
    names: fields.map(({ column }) => column),
    fields: new Map(fields.map(({ column, field }) => [column, field])),
    file: input.file,
  };
  const samples =
    plainLog(bytes, new LogRows(form), run.ids) ??
    logOfTable(`${folder.shownAs}/${RUN_FILES.sampleLog}`, bytes.toString(), new LogRows(form));
  const { file, sha256, bytes: size, rows } = input;
  const digest = { file, sha256, bytes: size, rows };
  return { samples, order: orderOf(samples), refused: run.byLog, unreadable: false, file, digest };
}

function logOfTable(shown: string, text: string, log: LogRows): LogSamples {
  const { names } = log;
  // The columns are taken by their place: a log may have a column of its own that is called "line".
  const { rows } = packageRows(shown, text, [LINE, ...names]);
  const key = names.indexOf(SAMPLE_ID);
  const samples = new LogSamples();
  for (const row of rows) {
    const sampleId = cellOf(row, key + 1);
    if (samples.has(sampleId)) throw new FileError(shown, `line ${row.line}: the sample is there already`);
    const texts = names.map((_, at) => cellOf(row, at + 1));
    samples.add(log.add(sampleId, texts, wholeOf(row, 0, shown)));
  }
  return samples;
}

/** Sample ids in the order in which the log had them. */
function orderOf(samples: LogSamples): readonly string[] {
  const rows = [...samples.values()];
  // Nearly always they came in the order of their ids.
  if (rows.every(({ line }, at) => at === 0 || (rows[at - 1] as SampleFacts).line <= line))
    return samples.order;
  return rows.sort((a, b) => a.line - b.line).map(({ sampleId }) => sampleId);
}
