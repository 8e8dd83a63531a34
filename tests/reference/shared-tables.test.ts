import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { FileError } from "../../src/files/file-error.ts";
import { packageRoot } from "../../src/files/package-root.ts";
import type { SharedTables } from "../../src/reference/shared-tables.ts";
import { loadSharedTables } from "../../src/reference/shared-tables.ts";
import { shared } from "../helpers/shared-tables.ts";

const TABLES = resolve(import.meta.dirname, "../../reference-tables");
const scratch = mkdtempSync(join(tmpdir(), "tables-"));
afterAll(() => rmSync(scratch, { recursive: true }));

describe("the shared tables of the package", () => {
  it("are found from the running code", () => {
    expect(packageRoot()).toBe(resolve(import.meta.dirname, "../.."));
  });

  it("hold the tree, the names and the stages", () => {
    // Row totals as reference-tables/README.md states them.
    expect(shared.tree.size).toBe(2217);
    expect(shared.synonyms).toHaveLength(471);
    expect(shared.stageRules).toHaveLength(25);
    const { tree } = shared;
    const baetis = tree.numberOf("Baetis") ?? -1;
    expect([tree.rankOf(baetis), tree.nameOf(tree.parentOf(baetis))]).toEqual(["genus", "Baetidae"]);
    expect(tree.policies[tree.numberOf("Margaritifera") ?? -1]).toBe("release");
    expect(shared.synonyms.find(({ name }) => name === "Hydro")).toEqual({
      name: "Hydro",
      accepted: "Insecta",
      kind: "ambiguous",
      candidates: ["Hydropsyche", "Hydroptilidae", "Hydrophilidae"],
      reason: "ambiguous: bench abbreviation: Hydropsyche, Hydroptilidae or Hydrophilidae",
    });
    expect(shared.stageRules.find(({ taxon }) => taxon === "Psephenidae")).toEqual({
      taxon: "Psephenidae",
      stage: "adult",
      policy: "exclude",
      reason: "adult lives on land beside the water; common practice, no source",
    });
  });

  it("hold attribute schemes with their values and sources", () => {
    const { scheme, values, scoreAs } = shared.loadAttribute("bmwp-1983");
    expect(scheme).toMatchObject({
      attribute: "tolerance",
      min: 1,
      max: 10,
      direction: "higher-is-sensitive",
    });
    expect(values.get("Planariidae")).toEqual({ text: "5", sourceId: "bmwp-wikipedia", verified: "seen" });
    expect(scoreAs.get("Tubificidae")).toBe("Oligochaeta");
    expect(shared.loadAttribute("habit").scheme.min).toBe(undefined);
    expect(shared.loadAttribute("habit").scoreAs.size).toBe(0);
    expect(shared.loadAttribute("bmwp-1983")).toBe(shared.loadAttribute("bmwp-1983"));
    expect(shared.sources.get("rbp1999")?.year).toBe("1999");
    expect(shared.fileOf("bmwp-1983")).toBe("attributes/tolerance/bmwp-1983.csv");
    expect(() => shared.loadAttribute("nonsense")).toThrow('there is no attribute scheme "nonsense"');
  });

  it("know the hash of every file, read or not", () => {
    const bytes = readFileSync(join(TABLES, "attributes/traits/habit.csv"));
    const hash = createHash("sha256").update(bytes).digest("hex");
    expect(loadSharedTables(TABLES).digests.get("attributes/traits/habit.csv")).toBe(hash);
    expect(shared.digests.get("attributes/none.csv")).toBe(undefined);
  });
});

describe("a faulty table", () => {
  /** The tables with one file replaced. */
  function withFile(path: string, content: string | Uint8Array): SharedTables {
    const folder = mkdtempSync(join(scratch, "set-"));
    cpSync(join(TABLES, "taxa"), join(folder, "taxa"), { recursive: true });
    cpSync(join(TABLES, "attributes"), join(folder, "attributes"), { recursive: true });
    writeFileSync(join(folder, path), content);
    return loadSharedTables(folder);
  }
  const TAXA = "taxon,rank,parent,status,count_policy,count_reason,common_group\n";
  const SCHEMES = "scheme,attribute,level,min,max,direction,region,source_id,file,note\n";
  const VALUES = "taxon,value,source_id,verified\n";

  it.each<[string, string | Uint8Array, (tables: SharedTables) => unknown, string]>([
    ["taxa/taxa.csv", `${TAXA}A,realm,,,,,\n`, (t) => t.tree, 'line 2: "realm" is none of kingdom, phylum,'],
    ["taxa/taxa.csv", `${TAXA}A,kingdom,,,maybe,,\n`, (t) => t.tree, 'line 2: "maybe" is none of count,'],
    ["taxa/taxa.csv", `${TAXA}A,kingdom,,,,,\nB,class,C,,,,\n`, (t) => t.tree, 'parent "C" of "B"'],
    ["taxa/taxa.csv", new Uint8Array([0x74, 0xe9]), (t) => t.tree, "is not UTF-8 text"],
    ["taxa/synonyms.csv", "name\n", (t) => t.synonyms, 'line 1: the column "accepted_name" is missing'],
    ["attributes/schemes.csv", `${SCHEMES}a,taste,,,,,,,,\n`, (t) => t.schemes, 'line 2: "taste" is none of'],
    [
      "attributes/schemes.csv",
      `${SCHEMES}a,habit,,x,,,,,,\n`,
      (t) => t.schemes,
      '"x" is not a decimal number',
    ],
    [
      "attributes/schemes.csv",
      `${SCHEMES}a,habit,,,,,,,,\na,habit,,,,,,,,\n`,
      (t) => t.schemes,
      "there already",
    ],
    [
      "attributes/traits/habit.csv",
      `${VALUES}A,swimmer,x,seen\nA,diver,x,seen\n`,
      (t) => t.loadAttribute("habit"),
      "line 3: A has a value already",
    ],
  ])("%s: %j", (path, content, use, reason) => {
    const tables = withFile(path, content);
    try {
      use(tables);
    } catch (error) {
      if (!(error instanceof FileError)) throw error;
      expect(error.path.endsWith(path)).toBe(true);
      expect(error.reason).toContain(reason);
      return;
    }
    throw new Error("nothing was thrown");
  });

  it("that is missing is named", () => {
    expect(() => loadSharedTables(scratch).tree).toThrow(/taxa\.csv: no such file or folder$/);
  });
});
