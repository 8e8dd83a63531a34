import { describe, expect, it } from "vitest";
import { LogRows } from "../../src/sheets/log-rows.ts";
import { LogSamples } from "../../src/sheets/log-samples.ts";

describe("the samples of a log", () => {
  it("are what a map of them would be, and the first row of each", () => {
    const rows = new LogRows({ names: ["site_id"], fields: new Map([["site_id", 2]]), file: "log.csv" });
    const samples = new LogSamples();
    const map = new Map();
    for (const [line, id] of ["S1", "S2", "S2", "A", "S1", "__proto__"].entries()) {
      const facts = rows.add(id, ["P"], line);
      expect(samples.add(facts)).toBe(!map.has(id));
      if (!map.has(id)) map.set(id, facts);
    }
    expect([...samples]).toEqual([...map]);
    expect([...samples.entries()]).toEqual([...map.entries()]);
    expect([...samples.keys()]).toEqual([...map.keys()]);
    expect([...samples.values()]).toEqual([...map.values()]);
    expect(samples.order).toEqual(["S1", "S2", "A", "__proto__"]);
    expect(samples.size).toBe(4);
    expect(samples.get("S2")?.line).toBe(1);
    expect([samples.get("S3"), samples.has("S3"), samples.has("A")]).toEqual([undefined, false, true]);
    const told: unknown[] = [];
    samples.forEach((facts, id, all) => {
      told.push([facts.sampleId, id, all === samples]);
    });
    expect(told).toEqual(samples.order.map((id) => [id, id, true]));
  });
});
