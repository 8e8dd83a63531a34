import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { demoRows, demoText } from "./demo-files.ts";

const DEMO_FOLDER = fileURLToPath(new URL("../../demo-data", import.meta.url));
const FILES = ["qc-duplicates-log.csv", "qc-recheck-sheet.csv", "qc-scores.csv", "qc-sorting-check.csv"];
const LOG = new Map(demoRows("sample-log.csv").map((row) => [row.sample_id, row]));

describe("the files of quality control", () => {
  it("are remade byte for byte by generate-qc.mjs", () => {
    const folder = mkdtempSync(join(tmpdir(), "jartally-demo-"));
    try {
      const run = spawnSync(process.execPath, [join(DEMO_FOLDER, "generate-qc.mjs"), folder], {
        encoding: "utf8",
      });
      expect([run.status, run.stderr, run.stdout]).toEqual([0, "", ""]);
      expect(readdirSync(folder).sort()).toEqual(FILES);
      for (const name of FILES) expect(readFileSync(join(folder, name), "utf8"), name).toBe(demoText(name));
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it("check and re-check samples of the batch, sorted by the people of the log", () => {
    for (const row of demoRows("qc-sorting-check.csv"))
      expect(LOG.get(row.sample_id)?.sorter, row.sample_id).toBe(row.sorter);
    const rechecked = new Set(demoRows("qc-recheck-sheet.csv").map((row) => row.sample_id));
    expect([...rechecked]).toEqual(["U1-2023-06", "V4-2023-05", "U3-2023-09", "L2-2023-09", "L1-2024-09"]);
    for (const id of rechecked) expect(LOG.has(id), id).toBe(true);
  });

  it("have scores for every sample of the study of precision, ten visits, one of them refused", () => {
    const log = demoRows("qc-duplicates-log.csv");
    const scores = demoRows("qc-scores.csv");
    expect(scores.map((row) => row.sample_id)).toEqual(log.map((row) => row.sample_id));
    expect(log.filter((row) => row.duplicate_of === "")).toHaveLength(10);
    expect(scores.filter((row) => row.index === "").map((row) => row.sample_id)).toEqual(["V8-2024-06-D"]);
    // No site of the study is one of the batch's, so nobody mixes them up.
    for (const row of log) expect([...LOG.values()].map((one) => one.site_id)).not.toContain(row.site_id);
  });

  it("have as many rows as the README says", () => {
    for (const name of FILES) {
      const stated = new RegExp(`\\| \`${name}\` *\\|[^|]*\\| *(\\d+) *\\|`).exec(demoText("README.md"));
      expect(stated?.[1], name).toBe(String(demoRows(name).length));
    }
  });
});
