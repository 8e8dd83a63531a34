import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runJartally } from "../../helpers/run-jartally.ts";
import { csvRows, folderWith, runQc } from "./csv-rows.ts";

const CHECK = `sample_id,sorted_count,recovered_count,fraction_checked,sorter
A,180,20,,ana
B,180,21,1,ana
C,200,3,0.25,
D,0,0,,bo
`;
const LOG = `sample_id,sorter,lot,sorted_on
A,ana,L1,2024-05-02
B,ana,L1,2024-05-03
C,bo,L1,2024-06-01
D,bo,L2,
E,ana,L1,
F,ana,L1,
G,ana,L1,
`;

describe("qc sorting", () => {
  it("gives each check its efficiency: 90 passes, one animal more fails and ends with 1", () => {
    const { status, rows, stderr } = runQc({ "c.csv": CHECK }, ["sorting", "c.csv"]);
    expect(status).toBe(1);
    expect(rows.map((row) => [row.sample_id, row.efficiency_percent, row.outcome, row.missed_by])).toEqual([
      ["A", "90", "pass", ""],
      ["B", "89.552238806", "fail", "0.44776119403"],
      ["C", "94.3396226415", "pass", ""],
      ["D", "", "not-computable", ""],
    ]);
    expect(rows[2]).toMatchObject({ missed: "12", estimate: "yes", fraction_checked: "0.25" });
    expect(stderr).toContain(
      "c.csv:3:1 warning limit-missed sorting efficiency of B is 89.55 percent, 0.45 under the limit of 90",
    );
    expect(stderr).toContain(
      "c.csv:4:1 note partly-checked 3 animals found in 25 percent of the residue of C stand for 12",
    );
    expect(stderr).toContain("c.csv:5:1 note not-computable sorting efficiency of D");
    expect(stderr).toContain("4 checks: 2 passed, 1 failed, 1 not computable");
  });

  it("ends with 0 when the limit is lower, and takes it exactly", () => {
    const words = ["sorting", "c.csv", "--limit", "89.55"];
    expect(runQc({ "c.csv": CHECK }, words).status).toBe(0);
    expect(runQc({ "c.csv": CHECK }, ["sorting", "c.csv", "--limit", "89.5523"]).status).toBe(1);
  });

  it("joins the sample log and knows who has to check what next", () => {
    const files = { "c.csv": CHECK, "log.csv": LOG };
    const { rows } = runQc(files, ["sorting", "c.csv", "--log", "log.csv", "--table", "steps"]);
    expect(rows.map((row) => [row.kind, row.sample_id, row.step])).toEqual([
      ["check-rest", "", "check the rest of ana's part of lot L1: E, F, G"],
      [
        "recount",
        "B",
        "recount B: sort its residue again, add what is found to the vials and to the counts, write the action taken on the bench sheet",
      ],
      ["add-recovered", "A", "add the 20 animals found to the vials and to the counts of A"],
      ["add-recovered", "C", "add the 3 animals found to the vials and to the counts of C"],
    ]);
    const lots = runQc(files, ["sorting", "c.csv", "--samples", "log.csv", "--table", "lots"]).rows;
    expect(lots.map((row) => [row.lot, row.checks, row.failed, row.outcome])).toEqual([
      ["L1", "3", "1", "fail"],
      ["L2", "1", "0", "not-computable"],
    ]);
    const months = runQc(files, ["sorting", "c.csv", "--samples", "log.csv", "--table", "months"]).rows;
    expect(months.map((row) => [row.month, row.checks])).toEqual([
      ["2024-05", "2"],
      ["2024-06", "1"],
      ["", "1"],
    ]);
    const sorters = runQc(files, ["sorting", "c.csv", "--samples", "log.csv", "--table", "sorters"]).rows;
    // 360 of 401 animals; the mean of 90 and 89.55.
    expect(sorters[0]).toMatchObject({ sorter: "ana", efficiency_pooled: "89.7755610973", outcome: "fail" });
  });

  // Barbour et al. 1999 (EPA 841-B-99-002, chapter 7) pass fewer than 10 and fail more than 10.
  it("has the rule of missed animals, and leaves exactly ten to the laboratory", () => {
    const check = "sample_id,sorted_count,recovered_count\nA,100,9\nB,100,10\nC,100,11\nD,205,20\n";
    const run = (...more: string[]) =>
      runQc({ "c.csv": check }, ["sorting", "c.csv", "--rule", "missed", ...more]);
    const open = run();
    expect(open.rows.map((row) => row.outcome)).toEqual(["pass", "undecided", "fail", "pass"]);
    expect(open.status).toBe(1);
    expect(open.stderr).toContain("c.csv:3:1 warning at-open-limit B: exactly 10 animals missed");
    expect(open.stderr).toContain("11 animals of C were missed, 1 over the limit of fewer than 10");
    expect(run("--at-limit", "pass").rows[1]?.outcome).toBe("pass");
    expect(run("--at-limit", "fail").rows[1]?.outcome).toBe("fail");
    const onlyOpen = { "c.csv": "sample_id,sorted_count,recovered_count\nB,100,10\n" };
    const words = ["sorting", "c.csv", "--rule", "missed"];
    expect(runQc(onlyOpen, words).status).toBe(1);
    expect(runQc(onlyOpen, [...words, "--at-limit", "pass"]).status).toBe(0);
  });

  it("ends with 0 when nothing can be computed: that is no failure", () => {
    const { status, rows } = runQc({ "c.csv": "sample_id,sorted_count,recovered_count\nA,0,0\n" }, [
      "sorting",
      "c.csv",
    ]);
    expect([status, rows[0]?.outcome]).toEqual([0, "not-computable"]);
  });

  it("refuses a faulty row, keeps the others and ends with 3", () => {
    const check =
      "sample_id,sorted_count,recovered_count,fraction_checked\nA,180,x,\nB,180,0,\nC,180,1,25%\n";
    const { status, rows, stderr } = runQc({ "c.csv": check }, ["sorting", "c.csv"]);
    expect(status).toBe(3);
    expect(rows.map((row) => [row.sample_id, row.outcome, row.next_step])).toEqual([
      ["B", "pass", ""],
      ["A", "refused", "correct its row: bad-count"],
      ["C", "refused", "correct its row: bad-share"],
    ]);
    expect(stderr).toContain("c.csv:2:3 error bad-count");
    expect(stderr).toContain("c.csv:4:4 error bad-share");
  });

  it("says what the log does not know and what was checked twice", () => {
    const check = "sample_id,sorted_count,recovered_count\nA,90,1\nA,90,0\nZ,90,0\n";
    const { stderr } = runQc({ "c.csv": check, "log.csv": LOG }, ["sorting", "c.csv", "--log", "log.csv"]);
    expect(stderr).toContain("c.csv:3:1 note checked-twice sample A was also checked in line 2");
    expect(stderr).toContain("c.csv:4:1 warning not-in-log sample Z was checked");
  });

  it("gives JSON with the rows and what they come from", () => {
    const { stdout } = runQc({ "c.csv": CHECK }, ["sorting", "c.csv", "--format", "json"]);
    const parsed = JSON.parse(stdout);
    expect(parsed.schema).toBe("jartally/qc-sorting-samples@1");
    expect(parsed.inputs.map((input: { file: string }) => input.file)).toEqual(["c.csv"]);
    expect(parsed.rows).toHaveLength(4);
    expect(parsed.rows[3].efficiency_percent).toBeNull();
  });

  it("leaves a report with a control chart for each sorter, whole, and never over another folder", () => {
    const folder = folderWith({ "c.csv": CHECK, "log.csv": LOG });
    const words = ["qc", "sorting", "c.csv", "--log", "log.csv", "--report", "report"];
    const first = runJartally(words, { cwd: folder });
    expect(first.status).toBe(1);
    expect(first.stderr).toContain("; report in report");
    expect(readdirSync(join(folder, "report")).sort()).toEqual([
      "control-chart-01.svg",
      "control-chart-02.svg",
      "findings.csv",
      "index.html",
      "lots.csv",
      "months.csv",
      "quality.json",
      "samples.csv",
      "sorters.csv",
      "steps.csv",
    ]);
    const page = readFileSync(join(folder, "report/index.html"), "utf8");
    // Two charts, each for broad and for narrow pages.
    expect(page.match(/<svg role="img"/g)).toHaveLength(4);
    expect(page).toContain(
      "Sorting efficiency of ana: 2 samples over time, limit at least 90 percent, 1 missed it: B (89.55).",
    );
    expect(csvRows(readFileSync(join(folder, "report/samples.csv"), "utf8"))).toEqual(csvRows(first.stdout));
    const again = runJartally(words, { cwd: folder });
    expect([again.status, again.stdout]).toEqual([4, ""]);
    expect(again.stderr).toBe("jartally: report: exists already; a report folder is never overwritten\n");
    const other = runJartally([...words.slice(0, -1), "other"], { cwd: folder });
    expect(other.stdout).toBe(first.stdout);
    for (const name of readdirSync(join(folder, "report")))
      expect(readFileSync(join(folder, "other", name), "utf8"), name).toBe(
        readFileSync(join(folder, "report", name), "utf8"),
      );
  });

  it("leaves no report when the data are refused", () => {
    const folder = folderWith({ "c.csv": "sample_id,sorted\nA,1\n" });
    const result = runJartally(["qc", "sorting", "c.csv", "--report", "r"], { cwd: folder });
    expect([result.status, result.stdout, existsSync(join(folder, "r"))]).toEqual([3, "", false]);
    expect(result.stderr).toContain("c.csv:1:0 error missing-column");
  });

  it("shows a person the main columns, the steps and the groups", () => {
    const { stdout } = runQc({ "c.csv": CHECK, "log.csv": LOG }, [
      "sorting",
      "c.csv",
      "--log",
      "log.csv",
      "--format",
      "table",
    ]);
    expect(stdout).toMatch(/^sample_id +sorter +lot +sorted_count/);
    expect(stdout).toMatch(/\nWhat to do next\nkind/);
    expect(stdout).toContain("89.55");
    expect(stdout).not.toContain("89.552");
  });

  it("colours outcomes only when asked to, and only beside the word", () => {
    const words = ["sorting", "c.csv", "--format", "table"];
    const plain = runQc({ "c.csv": CHECK }, words).stdout;
    const coloured = runQc({ "c.csv": CHECK }, [...words, "--color", "always"]).stdout;
    expect(plain).not.toContain("\u001b");
    expect(coloured).toContain("\u001b[31mfail");
    // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape is what is taken out
    expect(coloured.replaceAll(/\u001b\[\d+m/g, "")).toBe(plain);
  });

  it.each([
    [["sorting"], /missing required argument 'check'/],
    [["sorting", "c.csv", "--at-limit", "pass"], /--at-limit belongs to --rule missed/],
    [["sorting", "c.csv", "--limit", "-1"], /--limit: "-1" is not a number from 0/],
    [["sorting", "c.csv", "--limit", "101"], /an efficiency is at most 100 percent/],
    [["sorting", "c.csv", "--share", "0"], /--share: "0" is not a share/],
    [
      ["sorting", "c.csv", "--table", "x"],
      /--table: "x" is not one of samples, steps, sorters, lots, months/,
    ],
    [["sorting", "c.csv", "--log", "a", "--samples", "b"], /both name the sample log/],
    [["sorting", "-", "--log", "-"], /standard input/],
  ])("refuses %j as wrong usage", (words, message) => {
    const { status, stdout, stderr } = runQc({ "c.csv": CHECK }, words);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(message);
  });
});
