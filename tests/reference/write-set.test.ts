import { mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { FindingCollector } from "../../src/findings/collector.ts";
import { toNumber } from "../../src/model/exact.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import { compareSets } from "../../src/reference/compare-sets.ts";
import { findSetFolder } from "../../src/reference/find-set.ts";
import { readReferenceSet, readSet } from "../../src/reference/read-set.ts";
import { writeSetCopy } from "../../src/reference/write-set.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";
import { SHIPPED, shippedSet, TABLES } from "../helpers/sets.ts";

const IDS = readdirSync(join(TABLES, "sets")).sort();

/** Copies a shipped set into a fresh folder and gives its path. */
async function copyOf(id: string): Promise<string> {
  const folder = await findSetFolder(id, { packageTables: TABLES, cwd: "/" });
  const read = await readSet(folder, SHIPPED, new FindingCollector());
  if (read === undefined) throw new Error(`${id} cannot be read`);
  const target = join(freshFolder(), "my-copy");
  mkdirSync(target);
  await writeSetCopy(read, folder, "my-copy", SHIPPED, target);
  return target;
}

describe.each(IDS)("a copy of %s", (id) => {
  it("differs in what it is and where its values stand, and in nothing that scores", async () => {
    const path = await copyOf(id);
    const findings = new FindingCollector();
    const copy = await readReferenceSet({ path, shownAs: "my-copy" }, SHIPPED, findings);
    expect(findings.all).toEqual([]);
    if (copy === undefined) throw new Error("the copy cannot be read");
    const original = await shippedSet(id);
    const differences = compareSets(original, copy).filter((one) => one.part !== "attribute");
    expect(differences.map((one) => one.name)).toEqual([
      "id",
      "title",
      "version",
      "based_on.id",
      "based_on.version",
      "based_on.hash",
    ]);
    expect(copy.definition.based_on).toEqual({
      id,
      version: original.definition.version,
      hash: original.hash,
    });
  });

  it("stands alone: no shared scheme, every source cited beside it", async () => {
    const path = await copyOf(id);
    const copy = await readReferenceSet({ path, shownAs: "my-copy" }, SHIPPED, new FindingCollector());
    const choices = Object.values(copy?.definition.attributes ?? {});
    expect(choices.filter((choice) => "scheme" in choice)).toEqual([]);
    const cited = [...(copy?.ownSources.keys() ?? [])];
    expect(copy?.definition.sources.filter((source) => !cited.includes(source))).toEqual([]);
    expect(readdirSync(path).sort()).toEqual(
      [
        "README.md",
        "set.json",
        "set.schema.json",
        "sources.csv",
        ...(copy?.attributes.size === 0 ? [] : ["taxa.csv"]),
        "thresholds.csv",
      ].sort(),
    );
    expect(JSON.parse(readFileSync(join(path, "set.json"), "utf8")).$schema).toBe("./set.schema.json");
  });
});

describe("a copy of the demo set", () => {
  it("gives the demo batch the same scores", async () => {
    const demo = (file: string) => join(REPOSITORY, "demo-data", file);
    const scores = async (reference: string) => {
      const batch = await scoreSamples({
        sheets: [demo("bench-sheet.csv")],
        samples: demo("sample-log.csv"),
        names: demo("names.csv"),
        reference,
      });
      return [...batch.samples].map(({ score }) => [
        score.sampleId,
        score.rating,
        score.index === undefined ? undefined : toNumber(score.index),
        ...score.metrics.map((metric) => (metric.score === undefined ? undefined : toNumber(metric.score))),
      ]);
    };
    const original = await scores("vennaloo-demo");
    expect(original.length).toBe(37);
    expect(await scores(await copyOf("vennaloo-demo"))).toEqual(original);
  });

  it("has a schema that describes every key of set.json", async () => {
    const path = await copyOf("vennaloo-demo");
    const schema = JSON.parse(readFileSync(join(path, "set.schema.json"), "utf8"));
    const written = JSON.parse(readFileSync(join(path, "set.json"), "utf8"));
    expect(schema.type).toBe("object");
    expect(schema.additionalProperties).toBe(false);
    expect(Object.keys(written).filter((key) => !(key in schema.properties))).toEqual([]);
    expect(schema.required.filter((key: string) => !(key in written))).toEqual([]);
  });
});
