import { appendFileSync, cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runJartally } from "../helpers/run-jartally.ts";
import { smallLab, writeSmallSet } from "../helpers/small-lab.ts";

const COLUMNS =
  "sample_id,index_before,index_after,rating_before,rating_after,change,cause_counts,cause_names,cause_attributes,cause_metrics,cause_rules,attribution,why,status_before,status_after,run";

let lab = "";
beforeAll(() => {
  lab = smallLab();
  // Without the sample that is refused, whose exit code would hide the others.
  const sheet = join(lab, "sheet.csv");
  writeFileSync(sheet, readFileSync(sheet, "utf8").replace("S-2,Zzyzx,1,larva,1\n", ""));
  writeSmallSet(lab, { folder: "next", tolerance: { Baetis: "7" } });
  runJartally(["score", "sheet.csv", "--reference", "./small-set", "--run", "run", "-q"], { cwd: lab });
});
const rescore = (...words: string[]) => runJartally(["rescore", ...words], { cwd: lab });

describe("rescore", () => {
  it("prints the summary first and then a row a sample whose parts add up to the change", () => {
    const result = rescore("run", "--reference", "./next");
    expect(result.status).toBe(0);
    // S-1: the mean rises from 2.5 to 3.5. S-2, Baetis alone: 5 to 7. S-3: (120 + 72 + 40) / 50 to (120 + 72 + 56) / 50.
    expect(result.stdout).toBe(
      `${COLUMNS}\nS-1,9.5,8.5,fair,fair,-1,0,0,-1,0,0,attributed,,scored,scored,run\nS-2,6,4,fair,poor,-2,0,0,-2,0,0,attributed,,scored,scored,run\nS-3,8.36,8.04,fair,fair,-0.32,0,0,-0.32,0,0,attributed,,scored,scored,run\n`,
    );
    const lines = result.stderr.split("\n");
    expect(lines.slice(0, 4)).toEqual([
      "3 samples: 1 changed rating, 0 up, 1 down; 2 changed index only, 0 unchanged",
      "mean change of the index -1.1067: counts 0, names 0, attributes -1.1067, metrics 0, rules 0",
      "largest moves:",
      "  S-2 -2: 6 to 4 (fair to poor)",
    ]);
    expect(result.stderr).toContain("run: differs in attributes; seed 1");
  });

  it("answers no with --fail-on-change when anything changed, and only then", () => {
    expect(rescore("run", "--reference", "./next", "--fail-on-change", "-q").status).toBe(1);
    expect(rescore("run", "--reference", "./small-set", "--fail-on-change", "-q").status).toBe(0);
  });

  it("leaves a run of the new scores that verifies and says what it was made from", () => {
    expect(rescore("run", "--reference", "./next", "--run", "run-next", "-q").status).toBe(0);
    expect(runJartally(["verify", "run-next", "-q"], { cwd: lab }).status).toBe(0);
    const record = JSON.parse(readFileSync(join(lab, "run-next/run.json"), "utf8"));
    const old = JSON.parse(readFileSync(join(lab, "run/run.json"), "utf8"));
    expect(record.rescored_from.reference.hash).toBe(old.reference.hash);
    expect(record.reference.hash).not.toBe(old.reference.hash);
    expect(readFileSync(join(lab, "run-next/rows.csv"), "utf8")).toBe(
      readFileSync(join(lab, "run/rows.csv"), "utf8"),
    );
    expect(rescore("run", "--reference", "./next", "--run", "run-next").status).toBe(4);
  });

  it("does without the files that the run was made from", () => {
    const moved = smallLab();
    cpSync(join(lab, "run"), join(moved, "elsewhere"), { recursive: true });
    writeSmallSet(moved, { folder: "next", tolerance: { Baetis: "7" } });
    const words = ["rescore", "elsewhere", "--reference", "./next", "-q"];
    expect(runJartally(words, { cwd: moved }).stdout.replaceAll("elsewhere", "run")).toBe(
      rescore("run", "--reference", "./next", "-q").stdout,
    );
  });

  it("goes down to the rows of one sample with --why", () => {
    const result = rescore("run", "--reference", "./next", "--why", "S-3");
    const [header, first] = result.stdout.split("\n");
    expect(header).toBe("sample_id,cause,item,what,before,after,change_alone,place_before,place_after,run");
    expect(first).toMatch(/^S-3,attributes,Baetis,tolerance,5,7,'?-0\.32,/);
    expect(result.stderr).toMatch(/^S-3: change -0\.32; counts 0, names 0, attributes -0\.32/m);
    expect(rescore("run", "--reference", "./next", "--why", "S-9").status).toBe(2);
  });

  it("makes corrections and says what they did", () => {
    writeFileSync(
      join(lab, "amend.csv"),
      "sample_id,taxon,old_count,new_count,reason,by,on\nS-2,Leuctra,0,3,recovered from the residue,KMO,2024-07-01\n",
    );
    // Baetis and Leuctra, 3 each: mean 2.5 for 5, and 2 taxa for 1.
    const result = rescore("run", "--amend", "amend.csv", "--run", "run-amended", "-q");
    expect(result.stdout.split("\n")[2]).toBe(
      "S-2,6,9.5,fair,fair,3.5,3.5,0,0,0,0,attributed,,scored,scored,run",
    );
    expect(readFileSync(join(lab, "run-amended/amendments.csv"), "utf8")).toBe(
      "sample_id,taxon,old_count,new_count,reason,by,on,file,line,field\nS-2,Leuctra,0,3,recovered from the residue,KMO,2024-07-01,amend.csv,2,4\n",
    );
    expect(runJartally(["verify", "run-amended", "-q"], { cwd: lab }).status).toBe(0);
  });

  it("refuses a correction that does not fit with its place, and a run that was changed", () => {
    writeFileSync(
      join(lab, "wrong.csv"),
      "sample_id,taxon,old_count,new_count,reason\nS-1,Baetis,12,14,typo\n",
    );
    const wrong = rescore("run", "--amend", "wrong.csv");
    expect(wrong.status).toBe(3);
    expect(wrong.stderr).toMatch(
      /^wrong\.csv:2:4 error amendment-does-not-fit sample S-1 has 10 Baetis, not 12/m,
    );
    cpSync(join(lab, "run"), join(lab, "changed"), { recursive: true });
    appendFileSync(join(lab, "changed/rows.csv"), "\n");
    const changed = rescore("changed", "--reference", "./next");
    expect([changed.status, changed.stdout]).toEqual([3, `${COLUMNS}\n`]);
    expect(changed.stderr).toMatch(/error run-file-changed .*jartally verify says what was changed/);
  });

  it("refuses a large run that was changed as soon as that is known, whatever its rows look like now", () => {
    cpSync(join(lab, "run"), join(lab, "damaged"), { recursive: true });
    // A mark that opens a record and never closes it, before more rows than are hashed without a thread.
    const row = "S-1,Baetis,1,larva,,,,,,,,,,,,,,,,,sheet.csv,2,3\n";
    const rows = row.repeat(700_000);
    appendFileSync(join(lab, "damaged/rows.csv"), `"${rows}`);
    const damaged = rescore("damaged", "--reference", "./next");
    expect(damaged.status).toBe(3);
    expect(damaged.stderr).toMatch(/error run-file-changed /);
    // Nor is anything said of a file that is not there any more.
    rmSync(join(lab, "damaged/rows.csv"));
    const missing = rescore("damaged", "--reference", "./next");
    expect(missing.stderr).toMatch(/error run-file-changed /);
    expect(missing.status).toBe(3);
  });

  it("takes other names, targets and several runs or a folder of them", () => {
    writeFileSync(join(lab, "names.csv"), "sheet_name,accepted_name\nBaetis,Leuctra\n");
    // S-2 is Leuctra alone now: mean 0 for 10, one taxon for 1.
    const named = rescore("run", "--names", "names.csv", "-q").stdout.split("\n");
    expect(named[2]).toBe("S-2,6,11,fair,good,5,0,5,0,0,0,attributed,,scored,scored,run");
    const drawn = rescore("run", "--target", "5", "-q").stdout.split("\n");
    expect(drawn[2]).toMatch(/^S-2,6,6,fair,fair,0,/);
    mkdirSync(join(lab, "years"));
    cpSync(join(lab, "run"), join(lab, "years/2024"), { recursive: true });
    cpSync(join(lab, "run"), join(lab, "years/2023"), { recursive: true });
    const both = rescore("years", "run", "--reference", "./next");
    expect(
      both.stdout
        .split("\n")
        .filter((row) => row.startsWith("S-1,"))
        .map((row) => row.split(",").at(-1)),
    ).toEqual(["years/2023", "years/2024", "run"]);
    expect(both.stderr).toMatch(/^9 samples: 3 changed rating, 0 up, 3 down;/);
    expect(rescore("run", "--names", "names.csv", "--run", "run-named", "-q").status).toBe(0);
    expect(runJartally(["verify", "run-named", "-q"], { cwd: lab }).status).toBe(0);
    writeFileSync(join(lab, "bad-names.csv"), "sheet_name,accepted_name\nBaetis,Nobody\n");
    const refused = rescore("years", "--names", "bad-names.csv");
    expect(refused.status).toBe(3);
    // Said once, not for each of the two runs.
    expect(refused.stderr.match(/error unknown-accepted-name/g)).toHaveLength(1);
    expect(refused.stderr).toMatch(/^years\/2023 was not scored again\nyears\/2024 was not scored again$/m);
  });

  it.each([
    [["run"], /say what is to be changed, for instance --reference/],
    [
      ["run", "--reference", "./next", "--why", "S-1", "--run", "x"],
      /--why shows one sample and leaves no run/,
    ],
    [["run", "--reference", "./next", "--stamp"], /--stamp needs --run/],
    [
      ["run", "--reference", "./next", "-o", "run/c.csv"],
      /would be written into the run run|would be written into/,
    ],
    [["run", "--reference", "no-such-set"], /there is no reference set "no-such-set"/],
  ])("refuses %j with 2", (words, message) => {
    const result = rescore(...words);
    expect(result.stderr).toMatch(message);
    expect([result.status, result.stdout]).toEqual([2, ""]);
  });

  it("ends with 4 for what is no run, and for one that comes twice", () => {
    const none = rescore("small-set", "--reference", "./next");
    expect([none.status, none.stdout]).toEqual([4, ""]);
    expect(none.stderr).toMatch(/small-set: is no run \(it has no run\.json\), and holds none/);
    expect(rescore("run", "./run", "--reference", "./next").stderr).toMatch(/is given twice/);
    expect(existsSync(join(lab, "x"))).toBe(false);
  });
});

describe("explain", () => {
  it("tells of a run folder what it told of the sheets, and scores it no other way", () => {
    const words = ["--sample", "S-1", "-q"];
    const set = ["--reference", "./small-set"];
    const fromSheet = runJartally(["explain", "sheet.csv", ...set, ...words], { cwd: lab });
    expect(
      runJartally(["explain", "run", ...words], { cwd: lab }).stdout.replaceAll(
        "reference/sets/small-set",
        "./small-set",
      ),
    ).toBe(fromSheet.stdout);
    const other = runJartally(["explain", "run", ...words, ...set], { cwd: lab });
    expect([other.status, other.stdout]).toEqual([2, ""]);
    expect(other.stderr).toMatch(/--reference would score the run otherwise .*jartally rescore/);
  });
});
