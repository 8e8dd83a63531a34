import { describe, expect, it } from "vitest";
import * as z from "zod";
import { told } from "../../src/metrics/filter-settings.ts";
import { listSettings, takesFilters } from "../../src/metrics/setting-list.ts";
import { describeSettingProblems } from "../../src/metrics/setting-problems.ts";

describe("the list of settings", () => {
  it("has settings as they are declared, with what the set need not give", () => {
    const schema = z.strictObject({
      limit: told(z.number(), "number, required", "the limit"),
      each: told(z.enum(["taxon", "row"]).default("row"), "taxon or row", "what counts"),
      of: told(z.string().optional(), "taxa", "the whole"),
    });
    expect(listSettings(schema, false)).toEqual([
      {
        name: "limit",
        takes: "number, required",
        description: "the limit",
        required: true,
        byDefault: undefined,
      },
      {
        name: "each",
        takes: "taxon or row",
        description: "what counts",
        required: false,
        byDefault: '"row"',
      },
      { name: "of", takes: "taxa", description: "the whole", required: false, byDefault: undefined },
    ]);
  });

  it("has settings that nobody described, without words", () => {
    expect(listSettings(z.strictObject({ limit: z.number() }), false)).toEqual([
      { name: "limit", takes: "", description: "", required: true, byDefault: undefined },
    ]);
  });

  it("says of a metric with one of the settings that choose taxa that it does not take them all", () => {
    expect(takesFilters(z.strictObject({ within: z.string() }))).toBe(false);
  });
});

describe("what is wrong with settings", () => {
  function problems(schema: z.ZodObject, given: Record<string, unknown>): string[] {
    const parsed = schema.safeParse(given);
    return parsed.success ? [] : describeSettingProblems(parsed.error, schema, given);
  }

  it("is said of a metric that has none", () => {
    expect(problems(z.strictObject({}), { limit: 3 })).toEqual(['unknown setting "limit"; it has none']);
  });

  it("tells what is missing from what is wrong, however deep it stands", () => {
    const number = z.number({ error: "must be a number" });
    const schema = z.strictObject({ classes: z.array(z.strictObject({ from: number, weight: number })) });
    expect(problems(schema, { classes: [{ from: 1, weight: 1 }, { from: null }] })).toEqual([
      'setting "classes.1.from" must be a number',
      'setting "classes.1.weight" is missing; it must be a number',
    ]);
  });

  it("is said to be missing when what should hold it is missing too", () => {
    const schema = z.strictObject({ of: z.strictObject({ limit: z.number() }).optional() });
    const issue = {
      code: "custom" as const,
      path: ["of", "limit"],
      message: "must be given",
      input: undefined,
    };
    expect(describeSettingProblems(new z.ZodError([issue]), schema, {})).toEqual([
      'setting "of.limit" is missing; it must be given',
    ]);
    expect(describeSettingProblems(new z.ZodError([issue]), schema, { of: null })).toHaveLength(1);
  });
});
