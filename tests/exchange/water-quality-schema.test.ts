import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, it } from "vitest";
import { demoFolder, runJartally } from "../helpers/run-jartally.ts";
import activityMetric from "./standards/wqx-activitymetric.json" with { type: "json" };
import biological from "./standards/wqx-biological.json" with { type: "json" };

/*
 * Rows of the demo against the JSON Schema of the exchange itself (see the comment at the head of each schema
 * file): required columns, lengths, characters, lists of allowed values, nothing beside its columns.
 */
const ajv = new Ajv2020({ allErrors: true, formats: { date: /^\d{4}-\d\d-\d\d$/ } });
let folder = "";

beforeAll(() => {
  const demo = demoFolder();
  const words =
    "score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --run run -q -o s.csv";
  expect(runJartally(words.split(" "), { cwd: demo }).status).toBe(0);
  runJartally("export run --as water-quality-exchange -q -o wqx".split(" "), { cwd: demo });
  folder = join(demo, "wqx");
});

/** Rows as objects; empty cells are left out, numbers are numbers. */
function rowsOf(file: string, properties: Readonly<Record<string, { readonly type: string }>>): object[] {
  const rows: Record<string, string>[] = parse(readFileSync(join(folder, file), "utf8"), { columns: true });
  return rows.map((row) =>
    Object.fromEntries(
      Object.entries(row).flatMap(([name, cell]) =>
        cell === "" ? [] : [[name, properties[name]?.type === "number" ? Number(cell) : cell]],
      ),
    ),
  );
}

describe.each([
  { file: "results.csv", schema: biological, least: 1000 },
  { file: "metrics.csv", schema: activityMetric, least: 100 },
])("$file", ({ file, schema, least }) => {
  it("keeps to the schema of the exchange in every row", () => {
    const isValid = ajv.compile(schema);
    const rows = rowsOf(file, schema.properties);
    expect(rows.length).toBeGreaterThan(least);
    const faults = rows.flatMap((row, at) => (isValid(row) ? [] : [[at + 2, row, isValid.errors]]));
    expect(faults.slice(0, 3)).toEqual([]);
  });

  it("is refused by the schema without a required cell, with a foreign column, with a text too long", () => {
    const isValid = ajv.compile(schema);
    const [row = {}] = rowsOf(file, schema.properties);
    expect(isValid(row)).toBe(true);
    expect(isValid({ ...row, "Activity ID": undefined })).toBe(false);
    expect(isValid({ ...row, Rating: "good" })).toBe(false);
    expect(isValid({ ...row, "Activity ID": "x".repeat(36) })).toBe(false);
  });
});
