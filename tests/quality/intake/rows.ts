import type { SampleFacts } from "../../../src/model/sample-facts.ts";
import { checkIntake, intakeContext } from "../../../src/quality/intake/check-intake.ts";

/** Rows of a sample log, one object each, from line 2 on; the columns are those of all rows together. */
export function logOf(rows: readonly Readonly<Record<string, string>>[]): Map<string, SampleFacts> {
  const names = [...new Set(["sample_id", ...rows.flatMap((row) => Object.keys(row))])];
  const columns = new Map(names.map((name, at) => [name, at + 1]));
  return new Map(
    rows.map((row, at) => {
      const sampleId = row.sample_id ?? `S${at + 1}`;
      const texts = new Map(
        Object.entries({ ...row, sample_id: sampleId }).filter(([, text]) => text !== ""),
      );
      return [sampleId, { sampleId, texts, file: "log.csv", line: at + 2, columns }];
    }),
  );
}

/** What intake says of the rows on 2024-06-20: "line:column code message". */
export function intakeOf(
  rows: readonly Readonly<Record<string, string>>[],
  onSheets: readonly string[] = [],
): string[] {
  const log = logOf(rows);
  const context = intakeContext(log, "2024-06-20", (sampleId) => onSheets.includes(sampleId));
  return [...log.values()].flatMap((facts) =>
    checkIntake(facts, context).map((one) => `${one.line}:${one.column} ${one.code} ${one.message}`),
  );
}

/** The codes alone, of one row. */
export function codesOf(row: Readonly<Record<string, string>>): string[] {
  return intakeOf([row]).map((text) => text.split(" ")[1] ?? "");
}
