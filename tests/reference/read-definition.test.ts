import { describe, expect, it } from "vitest";
import { BARE_SET, readWritten } from "../helpers/sets.ts";

/** What is said of a set.json with some of its keys otherwise. */
async function saidOf(over: Readonly<Record<string, unknown>>): Promise<readonly string[]> {
  const { set, findings } = await readWritten({
    set: JSON.stringify({ ...BARE_SET, ...over }, undefined, 2),
  });
  expect(set).toBeUndefined();
  for (const one of findings) expect(one.line, one.message).toBeGreaterThan(0);
  return findings.map(({ message }) => message);
}

describe("a set.json that is not as it must be", () => {
  it("says what is missing and what is of another kind", async () => {
    expect(await saidOf({ title: undefined, version: 1, strata: "all", cautions: [3] })).toEqual([
      "title: is missing (a text)",
      "version: must be a text",
      "cautions.0: must be a text",
      "strata: must be a list",
    ]);
    expect(await saidOf({ index: 7, level: undefined })).toEqual([
      "level: is missing (an object)",
      "index: must be an object",
    ]);
  });

  it("says which words there are, and the key that is likely meant", async () => {
    expect(await saidOf({ verification: "sure" })).toEqual([
      'verification: must be "checked" or "transcribed" or "memory" or "invented"',
    ]);
    const [unknown] = await saidOf({ cautoins: [] });
    expect(unknown).toMatch(/^"cautoins" is no key of a set.*cautions/);
    expect(await saidOf({ verification: undefined })).toEqual([
      'verification: is missing ("checked" or "transcribed" or "memory" or "invented")',
    ]);
  });

  it("says the ends of a number, and what must not be empty", async () => {
    expect(await saidOf({ title: "", metrics: [] })).toEqual([
      "title: must not be empty",
      "metrics: must not be empty",
    ]);
    expect(await saidOf({ without_value_limit_percent: 101 })).toEqual([
      "without_value_limit_percent: must be at most 100",
    ]);
    expect(await saidOf({ without_value_limit_percent: -1 })).toEqual([
      "without_value_limit_percent: must be at least 0",
    ]);
    expect(await saidOf({ metrics: [{ id: "taxa_richness", weight: 0 }] })).toEqual([
      "metrics.0.weight: must be above 0",
    ]);
  });

  it("says what is wrong with the form that was most likely meant", async () => {
    const [choice] = await saidOf({ attributes: { tolerance: { held: true } } });
    expect(choice).toMatch(/^attributes\.tolerance/);
    const [empty] = await saidOf({ attributes: { tolerance: { scheme: "" } } });
    expect(empty).toBe("attributes.tolerance.scheme: must not be empty");
  });
});
