import { appendFileSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runJartally } from "../helpers/run-jartally.ts";
import { smallLab } from "../helpers/small-lab.ts";

let lab = "";
const make = (run: string) =>
  runJartally(["score", "sheet.csv", "--reference", "./small-set", "--run", run, "-q"], { cwd: lab });

beforeAll(() => {
  lab = smallLab();
  make("run");
});

describe("verify", () => {
  it("says that every byte agrees, with the fingerprint that score printed", () => {
    const scored = runJartally(
      ["score", "sheet.csv", "--reference", "./small-set", "--run", "again", "-o", "s.csv"],
      { cwd: lab },
    );
    const fingerprint = /^run folder again: ([0-9a-f]{64})$/m.exec(scored.stderr)?.[1];
    const result = runJartally(["verify", "again"], { cwd: lab });
    expect(result.status).toBe(0);
    expect(result.stderr).toMatch(
      new RegExp(
        `^again agrees: \\d+ files as they were, \\d+ of them worked out again; fingerprint ${fingerprint}\n$`,
      ),
    );
    const [header, ...rows] = result.stdout.trimEnd().split("\n");
    expect(header).toBe("run,file,agrees,compared,why");
    expect(rows.filter((row) => !row.startsWith("again,") || !row.includes(",yes,"))).toEqual([]);
    expect(rows).toContain("again,scores.csv,yes,checksum and content,");
  });

  it("answers no, file by file and in sentences, when something was changed", () => {
    make("changed");
    appendFileSync(join(lab, "changed/scores.csv"), "\n");
    const result = runJartally(["verify", "changed"], { cwd: lab });
    expect(result.status).toBe(1);
    expect(result.stdout).toMatch(/^changed,scores\.csv,no,checksum and content,"the file was changed/m);
    expect(result.stderr).toMatch(/^changed\/scores\.csv:0:0 error run-file-changed /m);
    expect(result.stderr).toMatch(/^changed\/scores\.csv:\d+:0 error run-result-differs /m);
    expect(result.stderr).toMatch(/^changed does not agree: 2 differences$/m);
  });

  it("answers no for all runs when one does not agree, and still looks at the others", () => {
    make("first");
    rmSync(join(lab, "first/draw.csv"));
    const result = runJartally(["verify", "first", "run", "--format", "json"], { cwd: lab });
    expect(result.status).toBe(1);
    const { schema, rows } = JSON.parse(result.stdout);
    expect(schema).toBe("jartally/verified-files@1");
    expect(new Set(rows.map((row: { run: string }) => row.run))).toEqual(new Set(["first", "run"]));
    expect(result.stderr).toMatch(/^run agrees/m);
  });

  it("answers no for a folder that is no run, without a table of its files", () => {
    mkdirSync(join(lab, "empty"));
    writeFileSync(join(lab, "empty/scores.csv"), "sample_id\n");
    const alone = runJartally(["verify", "empty", "--findings", "found.csv"], { cwd: lab });
    expect([alone.status, alone.stdout]).toEqual([1, ""]);
    expect(alone.stderr).toMatch(/^empty\/run\.json:0:0 error run-unreadable this is no run: /m);
    expect(alone.stderr).toMatch(/^empty is no run: nothing was verified$/m);
    expect(readFileSync(join(lab, "found.csv"), "utf8")).toContain("run-unreadable");
    expect(runJartally(["verify", "empty", "-o", "none.csv"], { cwd: lab }).status).toBe(1);
    expect(existsSync(join(lab, "none.csv"))).toBe(false);
  });

  it("gives a folder that is no run a row without a file when others are runs", () => {
    mkdirSync(join(lab, "bare"));
    const both = runJartally(["verify", "bare", "run"], { cwd: lab });
    expect(both.status).toBe(1);
    const [, first = "", ...others] = both.stdout.trimEnd().split("\n");
    expect(first).toBe("bare,,no,nothing,this is no run: there is neither run.json nor checksums.txt in it");
    expect(others.filter((row) => !row.startsWith("run,"))).toEqual([]);
  });

  it("answers no when run.json cannot be read as one of a run", () => {
    make("broken");
    writeFileSync(join(lab, "broken/run.json"), "nothing");
    const result = runJartally(["verify", "broken"], { cwd: lab });
    expect(result.status).toBe(1);
    expect(result.stderr).toContain("run.json cannot be read as a run: it is no JSON");
    expect(result.stderr).not.toMatch(/\n\s+at /);
  });

  it("ends with 4 for a folder that is not there, and with 2 for an output inside of a run", () => {
    const missing = runJartally(["verify", "nowhere"], { cwd: lab });
    expect([missing.status, missing.stdout]).toEqual([4, ""]);
    expect(missing.stderr).toMatch(/nowhere.*no such file or folder/);
    const inside = runJartally(["verify", "run", "-o", "run/verified.csv"], { cwd: lab });
    expect([inside.status, inside.stdout]).toEqual([2, ""]);
    expect(runJartally(["verify", "run", "-q", "-o", "verified.csv"], { cwd: lab }).status).toBe(0);
    expect(readFileSync(join(lab, "verified.csv"), "utf8")).toMatch(/^run,file,agrees/);
  });
});
