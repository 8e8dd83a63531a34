import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";

const FOLDER = new URL("../../demo-data/", import.meta.url);

export type Row = Record<string, string>;

/** The text of a file of the demo data. */
export function demoText(name: string): string {
  return readFileSync(new URL(name, FOLDER), "utf8");
}

/** The rows of a CSV file of the demo data. */
export function demoRows(name: string): Row[] {
  return csvRows(demoText(name));
}

/** Rows of a CSV text as records of texts; a ragged row is an error. */
export function csvRows(text: string): Row[] {
  return parse(text, { columns: true }) as Row[];
}

/** The rows of the demo bench sheet that belong to one sample. */
export function benchRowsOf(sampleId: string): Row[] {
  return demoRows("bench-sheet.csv").filter((row) => row.sample_id === sampleId);
}
