import { describe, expect, it } from "vitest";
import type { RunRecord } from "../../src/runs/run-record.ts";
import { parseRunRecord, runRecordJsonSchema, runRecordText } from "../../src/runs/run-record.ts";

const HASH = "ab".repeat(32);
const RECORD: RunRecord = {
  $schema: "./run.schema.json",
  schema: "jartally/run@1",
  tool: { name: "jartally", version: "0.1.0" },
  algorithms: { draw: "fixed-count-individual/1", name_key: "name-key/1" },
  options: { seed: "7", target: "set", stratum: null, attributes: [], classes: null },
  reference: { id: "small-set", version: "1.0.0", hash: HASH, title: "Small set", verification: "invented" },
  inputs: [{ role: "bench-sheet", file: "sheet.csv", sha256: HASH, bytes: 12, rows: 3, name_field: 2 }],
  sample_log_fields: null,
  has_names: false,
  rescored_from: null,
  environment: {},
};

describe("run.json", () => {
  it("is one text, whatever the order of the keys, and is read back", () => {
    const text = runRecordText(RECORD);
    const turned = Object.fromEntries(Object.entries(RECORD).reverse());
    const parsed = parseRunRecord(JSON.stringify(turned));
    expect(parsed).toEqual({ record: RECORD });
    expect("record" in parsed ? runRecordText(parsed.record) : "").toBe(text);
    expect(text.endsWith("}\n")).toBe(true);
  });

  it.each([
    ["", "it is no JSON"],
    ["[]", /expected object/],
    [
      JSON.stringify({ ...RECORD, schema: "jartally/run@2" }),
      /^it was written in the form jartally\/run@2, by version /,
    ],
    [JSON.stringify({ ...RECORD, extra: 1 }), /extra/],
    [JSON.stringify({ ...RECORD, inputs: [] }), /^inputs: /],
    [JSON.stringify({ ...RECORD, reference: { ...RECORD.reference, hash: "x" } }), /^reference\.hash: /],
    [JSON.stringify({ ...RECORD, options: { ...RECORD.options, target: -1 } }), /^options\.target: /],
  ])("is not read as a run when it is %s", (text, problem) => {
    const parsed = parseRunRecord(text);
    expect("problem" in parsed ? parsed.problem : "none").toMatch(problem);
  });

  it("comes with a JSON Schema that names every key and lets no other in", () => {
    const schema = JSON.parse(runRecordJsonSchema());
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
    expect(Object.keys(schema.properties)).toEqual(Object.keys(RECORD));
    expect(schema.required).toEqual(Object.keys(RECORD));
    expect(schema.additionalProperties).toBe(false);
  });
});
