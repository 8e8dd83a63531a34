import { readFile } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { asFileError, FileError } from "../files/file-error.ts";
import type { QualityReport } from "./quality-page.ts";

/** The file of a folder of quality figures that other reports read. */
export const QUALITY_FILE = "quality.json";
const FORM = "jartally/qc-report@1";

const outcome = z.enum(["pass", "fail", "undecided", "not-computable"]);
const figure = z.number().nullable();
const form = z.strictObject({
  form: z.literal(FORM),
  title: z.string(),
  outcome,
  summary: z.string(),
  rules: z.array(z.string()),
  tables: z.array(
    z.strictObject({
      id: z.string(),
      title: z.string(),
      explains: z.string(),
      columns: z.array(z.strictObject({ name: z.string(), kind: z.enum(["text", "number"]) })),
      brief: z.array(z.string()),
      rows: z.array(z.array(z.union([z.string(), z.number(), z.null()]))),
    }),
  ),
  charts: z.array(
    z.strictObject({
      person: z.string(),
      figure: z.string(),
      limit: figure,
      side: z.enum(["at-least", "at-most"]),
      points: z.array(z.strictObject({ sampleId: z.string(), date: z.string(), value: figure, outcome })),
      mean: figure,
      failures: z.number(),
    }),
  ),
  inputs: z.array(z.strictObject({ file: z.string(), sha256: z.string(), rows: z.number() })),
});

/** Quality figures as another report shows them. */
export type StoredQuality = Omit<QualityReport, "findings">;

/** The figures of a check as text, for reports that are made later. */
export function storedQuality({
  title,
  outcome: result,
  summary,
  rules,
  tables,
  charts,
  inputs,
}: QualityReport): string {
  const stored: z.input<typeof form> = {
    form: FORM,
    title,
    outcome: result,
    summary,
    rules: [...rules],
    tables: tables.map(({ id, title: name, explains, columns, brief, rows }) => ({
      id,
      title: name,
      explains,
      columns: columns.map(({ name: column, kind }) => ({ name: column, kind })),
      brief: [...brief],
      rows: rows.map((row) => [...row]),
    })),
    charts: charts.map((chart) => ({
      ...chart,
      limit: chart.limit ?? null,
      mean: chart.mean ?? null,
      points: chart.points.map(({ sampleId, date, value, outcome: own }) => ({
        sampleId,
        date,
        value: value ?? null,
        outcome: own,
      })),
    })),
    inputs: inputs.map(({ file, sha256, rows }) => ({ file, sha256, rows })),
  };
  return `${JSON.stringify(stored, undefined, 1)}\n`;
}

/**
 * Reads the figures of a folder that a quality command left with `--report`.
 *
 * @param path absolute path of the folder
 * @param shownAs the folder as the user gave it
 * @throws FileError when it is no such folder, or its file has another form
 */
export async function readQuality(path: string, shownAs: string): Promise<StoredQuality> {
  const shown = `${shownAs}/${QUALITY_FILE}`;
  let text: string;
  try {
    text = await readFile(join(path, QUALITY_FILE), "utf8");
  } catch (error) {
    throw asFileError(shown, error);
  }
  const parsed = form.safeParse(parsedJson(text, shown));
  if (!parsed.success) {
    const [fault] = parsed.error.issues;
    const where = fault === undefined || fault.path.length === 0 ? "" : ` at ${fault.path.join(".")}`;
    throw new FileError(shown, `is not what qc --report leaves: ${fault?.message ?? "another form"}${where}`);
  }
  const { charts, form: _, ...rest } = parsed.data;
  return {
    ...rest,
    charts: charts.map((chart) => ({
      ...chart,
      limit: chart.limit ?? undefined,
      mean: chart.mean ?? undefined,
      points: chart.points.map((point) => ({ ...point, value: point.value ?? undefined })),
    })),
  };
}

function parsedJson(text: string, shown: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new FileError(shown, "is not JSON");
  }
}
