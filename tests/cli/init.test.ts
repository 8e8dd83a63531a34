import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { LAB_SHEETS } from "../../src/cli/init-run.ts";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { readAlertsList } from "../../src/sheets/alerts-list.ts";
import { readAmendments } from "../../src/sheets/amendment.ts";
import { readBenchSheets } from "../../src/sheets/bench-sheet.ts";
import { readNamesList } from "../../src/sheets/names-list.ts";
import { readPickLog } from "../../src/sheets/pick-log.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";
import { readSortingChecks } from "../../src/sheets/sorting-check.ts";
import { freshFolder, runJartally } from "../helpers/run-jartally.ts";

const READERS: Readonly<Record<string, (text: string, findings: FindingCollector) => Promise<unknown>>> = {
  "sample-log.csv": (text, findings) => readSampleLog(inputFromBytes("t.csv", text), {}, findings),
  "bench-sheet.csv": (text, findings) => readBenchSheets([inputFromBytes("t.csv", text)], {}, findings),
  "pick-log.csv": (text, findings) => readPickLog(inputFromBytes("t.csv", text), {}, findings),
  "sorting-check.csv": (text, findings) => readSortingChecks(inputFromBytes("t.csv", text), {}, findings),
  "amendment.csv": (text, findings) => readAmendments(inputFromBytes("t.csv", text), {}, findings),
  "names.csv": (text, findings) => readNamesList(inputFromBytes("t.csv", text), {}, findings),
  "alerts.csv": (text, findings) => readAlertsList(inputFromBytes("t.csv", text), {}, findings),
};

/** A batch as a lab would write it, into the sheets that init left. */
function fillIn(lab: string) {
  const add = (name: string, row: Readonly<Record<string, string>>) => {
    const path = join(lab, name);
    const text = readFileSync(path, "utf8");
    const columns = text.split(/\r?\n/)[0]?.split(",") ?? [];
    for (const column of Object.keys(row)) expect(columns).toContain(column);
    writeFileSync(path, `${text}${columns.map((column) => row[column] ?? "").join(",")}\n`);
  };
  add("sample-log.csv", { sample_id: "A", stratum: "upland", collected_on: "2024-06-03" });
  add("bench-sheet.csv", { sample_id: "A", taxon: "Betis", count: "120" });
  add("bench-sheet.csv", { sample_id: "A", taxon: "Juga", count: "3" });
  add("names.csv", { sheet_name: "Betis", accepted_name: "Baetis" });
  add("alerts.csv", { taxon: "Juga", kind: "invasive" });
}

describe("init", () => {
  it("leaves empty sheets that their readers take, settings and a guide", async () => {
    const cwd = freshFolder();
    const { status, stdout, stderr } = runJartally(["init", "lab"], { cwd });
    expect([status, stdout]).toEqual([0, ""]);
    expect(stderr).toBe(
      "7 empty sheets, jartally.json and README.md written to lab; next: read lab/README.md\n",
    );
    const lab = join(cwd, "lab");
    const sheets = LAB_SHEETS.map(([name]) => name);
    expect(readdirSync(lab).sort()).toEqual(["README.md", "jartally.json", ...sheets].sort());
    expect(Object.keys(READERS).sort()).toEqual([...sheets].sort());
    for (const name of sheets) {
      const findings = new FindingCollector();
      await READERS[name]?.(readFileSync(join(lab, name), "utf8"), findings);
      expect([name, findings.all.map((one) => one.code)]).toEqual([name, ["no-rows"]]);
    }
    const guide = readFileSync(join(lab, "README.md"), "utf8");
    for (const caution of [
      "Ethanol",
      "Formalin",
      "Glass",
      "Protected animals",
      "safety data sheet",
      "permit",
    ])
      expect(guide).toContain(caution);
    expect(runJartally(["check", "bench-sheet.csv"], { cwd: lab }).status).toBe(0);
  });

  it("leaves settings that the other commands read", () => {
    const cwd = freshFolder();
    const lab = join(cwd, "lab");
    runJartally(["init", "lab", "--reference", "vennaloo-demo"], { cwd });
    fillIn(lab);
    const checked = runJartally(["check", "bench-sheet.csv"], { cwd: lab });
    expect(checked.stderr).toContain("ALERT invasive Juga: A (3 Juga)");
    expect(checked.stdout).toContain("\nA,,2024-06-03,ready,123,listed-taxon,,\n");
    const scored = runJartally(["score", "bench-sheet.csv"], { cwd: lab });
    expect(scored.status).toBe(0);
    expect(scored.stdout).toMatch(/\nA,,2024-06-03,upland,vennaloo-demo,/);
    // The guide's own commands.
    for (const words of [
      ["grids", "sample-log.csv", "--tray", "5x6", "--target", "200"],
      ["check", "bench-sheet.csv", "--write-names", "to-decide.csv"],
      ["qc", "choose", "sample-log.csv", "--share", "10%"],
      ["score", "bench-sheet.csv", "--run", "run-1", "-o", "scores.csv"],
      ["verify", "run-1"],
    ])
      expect([words.join(" "), runJartally(words, { cwd: lab }).status]).toEqual([words.join(" "), 0]);
  });

  it("never touches a folder or file that is there, and checks the set first", () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "lab"));
    writeFileSync(join(cwd, "file"), "x");
    for (const place of ["lab", "file", "."]) {
      const { status, stderr } = runJartally(["init", place], { cwd });
      expect([place, status]).toEqual([place, 4]);
      expect(stderr).toMatch(/exists already/);
    }
    expect(readdirSync(join(cwd, "lab"))).toEqual([]);
    expect(runJartally(["init", "new", "--reference", "nowhere-set"], { cwd }).status).toBe(2);
    expect(existsSync(join(cwd, "new"))).toBe(false);
    expect(runJartally(["init"], { cwd }).status).toBe(2);
  });

  it("names a set folder as seen from the new folder", () => {
    const cwd = freshFolder();
    runJartally(["reference", "new", "ours", "--from", "vennaloo-demo"], { cwd });
    expect(runJartally(["init", "lab", "--reference", "./ours"], { cwd }).status).toBe(0);
    expect(JSON.parse(readFileSync(join(cwd, "lab/jartally.json"), "utf8"))).toEqual({
      samples: "sample-log.csv",
      names: "names.csv",
      alerts: "alerts.csv",
      reference: "../ours",
    });
    expect(runJartally(["check", "bench-sheet.csv"], { cwd: join(cwd, "lab") }).status).toBe(0);
  });
});
