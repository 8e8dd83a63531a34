import * as z from "zod";
import { READ_ONCE } from "../model/read-once.ts";
import { VERIFICATIONS } from "../model/reference-set.ts";
import { FIELD_LINKS, INTERVAL_KINDS } from "../scoring/intervals/plan.ts";

/** Name and version of the form of run.json. A change that older readers cannot read is a new version. */
export const RUN_SCHEMA = "jartally/run@1";

const sha256 = z.string().regex(/^[0-9a-f]{64}$/, "64 hexadecimal digits");
const whole = z.int().min(0);

const input = z.strictObject({
  role: z.enum(["bench-sheet", "sample-log", "names", "amendment"]),
  file: z.string().describe("its name without folders, as all places of this run name it"),
  sha256: sha256.describe("of the bytes as they lay on the disk"),
  bytes: whole,
  rows: whole.describe("rows below the header"),
  name_field: whole.optional().describe("bench sheets: number of the field that holds the names"),
});

const field = z.strictObject({
  column: z.string().describe("name of a column of the sample log, as sample-log.csv has it"),
  field: whole.describe("its place in the sample log as it was given"),
});

const setIdentity = {
  id: z.string(),
  version: z.string(),
  hash: sha256.describe("over everything the set uses, shared tables included"),
};

/** The schema of run.json. */
export const runRecordSchema = z.strictObject({
  $schema: z.literal("./run.schema.json"),
  schema: z.literal(RUN_SCHEMA),
  tool: z.strictObject({ name: z.literal("jartally"), version: z.string() }),
  algorithms: z.strictObject({
    draw: z.string().describe("fixed count, animal by animal; the id goes into the random stream"),
    name_key: z.string().describe("normalised names, which give the draw its order"),
  }),
  options: z.strictObject({
    seed: z.string(),
    target: z
      .union([whole, z.literal("none"), z.literal("set")])
      .describe("animals drawn from larger samples; 'none' draws nothing, 'set' is the set's own count rule"),
    stratum: z.string().nullable().describe("the stratum of all samples in place of the log's"),
    attributes: z
      .array(z.string())
      .describe("schemes, or files below this folder, in place of the set's own attribute tables"),
    classes: z.string().nullable().describe("another class table of the set"),
    resampling: z
      .strictObject({
        resamples: whole.describe("of each sample"),
        confidence: z.number().describe("share of intervals that are to hold what they are about"),
        interval: z
          .enum(INTERVAL_KINDS)
          .describe("the mean over all fixed-count draws from the jar, or another draw from it"),
        support_limit: z
          .number()
          .nullable()
          .describe("support of the rating below which a score is called near a class limit"),
        field: z.enum(FIELD_LINKS).describe("columns of the sample log that join the field duplicates"),
        algorithms: z.array(z.string()).describe("of resampling; the ids go into the random streams"),
      })
      .optional()
      .describe("how the certainty of the scores was worked out; absent when it was not"),
  }),
  reference: z.strictObject({
    ...setIdentity,
    title: z.string(),
    verification: z.enum(VERIFICATIONS),
  }),
  inputs: z.array(input).min(1).describe("in the order of their names"),
  sample_log_fields: z.array(field).nullable().describe("null when no sample log was given"),
  has_names: z.boolean().describe("whether the lab's own list of names was given"),
  rescored_from: z
    .strictObject({
      fingerprint: sha256.describe("SHA-256 of checksums.txt of the run that was scored again"),
      reference: z.strictObject(setIdentity),
    })
    .nullable(),
  environment: z
    .record(z.string(), z.string())
    .describe(
      "the only block that may depend on the clock or the machine; empty unless it was asked for (--stamp)",
    ),
});

/** run.json as read. */
export type RunRecord = z.infer<typeof runRecordSchema>;
export type RunInput = RunRecord["inputs"][number];

/** run.json as its one text: the same record always gives the same bytes. */
export function runRecordText(record: RunRecord): string {
  // The schema puts the keys into their order, whatever the order of the object.
  return `${JSON.stringify(runRecordSchema.parse(record, READ_ONCE), undefined, 2)}\n`;
}

/** What reading a run.json gave: the record, or what is wrong with it in words. */
export type ParsedRecord = { readonly record: RunRecord } | { readonly problem: string };

/** Reads run.json strictly. */
export function parseRunRecord(text: string): ParsedRecord {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { problem: "it is no JSON" };
  }
  const parsed = runRecordSchema.safeParse(value, READ_ONCE);
  if (parsed.success) return { record: parsed.data };
  const form = z.looseObject({ schema: z.string() }).safeParse(value);
  if (form.success && form.data.schema !== RUN_SCHEMA) {
    const by = z.looseObject({ tool: z.looseObject({ version: z.string() }) }).safeParse(value);
    const writer = by.success ? `, by version ${by.data.tool.version}` : "";
    return {
      problem: `it was written in the form ${form.data.schema}${writer}; this version reads ${RUN_SCHEMA}: verify it with the version that wrote it, or score its sheets again`,
    };
  }
  const first = parsed.error.issues[0];
  const path = first?.path.map(String).join(".") ?? "";
  const message = first?.message ?? "it has another form";
  const says = message.endsWith("received undefined") ? "it is missing" : message;
  return { problem: `${path === "" ? "" : `${path}: `}${says}` };
}

/** The JSON Schema of run.json (draft 2020-12), for editors and other programs. */
export function runRecordJsonSchema(): string {
  return `${JSON.stringify(z.toJSONSchema(runRecordSchema), undefined, 2)}\n`;
}
