import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { packageRoot } from "../../src/files/package-root.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { findSetFolder } from "../../src/reference/find-set.ts";
import { readReferenceSet } from "../../src/reference/read-set.ts";
import { loadSharedTables } from "../../src/reference/shared-tables.ts";

const tables = join(packageRoot(), "reference-tables");

describe("shipped sets", () => {
  it.each(["vennaloo-demo", "hilsenhoff-family-1988"])("%s reads without a finding", async (id) => {
    const findings = new FindingCollector();
    const folder = await findSetFolder(id, { packageTables: tables, cwd: "/" });
    const set = await readReferenceSet(folder, loadSharedTables(tables), findings);
    expect(findings.all).toEqual([]);
    expect(set?.definition.id).toBe(id);
    expect(set?.hash).toMatch(/^[0-9a-f]{64}$/);
  });
});
