import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { sha256 } from "../../src/files/digest.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import type { Verification } from "../../src/pipeline/verify-run.ts";
import { verifyRun } from "../../src/pipeline/verify-run.ts";
import { RESULT_FILES } from "../../src/runs/run-files.ts";
import { smallLab } from "../helpers/small-lab.ts";

let lab = "";
let files: string[] = [];

beforeAll(async () => {
  lab = smallLab();
  writeFileSync(join(lab, "names.csv"), "sheet_name,accepted_name,note\nbaetis larva,Baetis,\n");
  await scoreSamples({
    sheets: ["sheet.csv"],
    samples: "log.csv",
    names: "names.csv",
    reference: "./small-set",
    cwd: lab,
    run: "run",
  });
  files = filesBelow(join(lab, "run"));
});

function filesBelow(folder: string, prefix = ""): string[] {
  return readdirSync(folder).flatMap((name) =>
    statSync(join(folder, name)).isDirectory()
      ? filesBelow(join(folder, name), `${prefix}${name}/`)
      : [prefix + name],
  );
}

/** A copy of the run with one file changed; with its checksum made to fit when asked for. */
function tampered(file: string, change: (bytes: Buffer) => Buffer, fitsChecksum = false): string {
  const copy = join(lab, "copy");
  rmSync(copy, { recursive: true, force: true });
  cpSync(join(lab, "run"), copy, { recursive: true });
  const bytes = change(readFileSync(join(copy, file)));
  writeFileSync(join(copy, file), bytes);
  if (fitsChecksum) {
    const list = join(copy, "checksums.txt");
    const lines = readFileSync(list, "utf8").split("\n");
    const line = lines.findIndex((one) => one.endsWith(`  ${file}`));
    lines[line] = `${sha256(bytes)}  ${file}`;
    writeFileSync(list, lines.join("\n"));
  }
  return "copy";
}

const flip = (at: (bytes: Buffer) => number) => (bytes: Buffer) => {
  const place = at(bytes);
  bytes[place] = (bytes[place] ?? 0) ^ 1;
  return bytes;
};
const codesOf = ({ findings }: Verification) => [...new Set(findings.map((one) => one.code))];

describe("verify", () => {
  it("agrees with a run as it was made", async () => {
    const { agrees, findings, files: seen, fingerprint } = await verifyRun("run", lab);
    expect([agrees, findings]).toEqual([true, []]);
    expect(seen.map((one) => one.file).sort()).toEqual([...files].sort());
    expect(fingerprint).toBe(sha256(readFileSync(join(lab, "run/checksums.txt"))));
    for (const file of RESULT_FILES)
      expect(seen.find((one) => one.file === file)?.compared).toBe("checksum and content");
  });

  it("catches one byte changed in any file, at its start, in its middle and at its end", async () => {
    for (const file of files) {
      for (const at of [() => 0, (bytes: Buffer) => bytes.length >> 1, (bytes: Buffer) => bytes.length - 1]) {
        const verification = await verifyRun(tampered(file, flip(at)), lab);
        expect(verification.agrees, file).toBe(false);
        const place = file === "checksums.txt" ? "" : `copy/${file}`;
        if (place !== "")
          expect(verification.findings.map((one) => `${one.code} ${one.file}`)).toContain(
            `run-file-changed ${place}`,
          );
      }
    }
  }, 240_000);

  it.each(RESULT_FILES)("catches a changed %s even when its checksum was made to fit", async (file) => {
    const verification = await verifyRun(
      tampered(
        file,
        flip((bytes) => bytes.length >> 1),
        true,
      ),
      lab,
    );
    expect(verification.findings.map((one) => [one.code, one.file])).toEqual([
      ["run-result-differs", `copy/${file}`],
    ]);
    expect(verification.findings[0]?.line).toBeGreaterThan(0);
  });

  it("catches a row changed together with its checksum by the results that do not follow from it any more", async () => {
    const change = (bytes: Buffer) => Buffer.from(bytes.toString().replace("S-1,Baetis,10", "S-1,Baetis,11"));
    const verification = await verifyRun(tampered("rows.csv", change, true), lab);
    expect(codesOf(verification)).toEqual(["run-result-differs"]);
    const changed = verification.files.filter((one) => !one.agrees).map((one) => one.file);
    expect(changed).toEqual(["counts.csv", "draw.csv", "metrics.csv", "piles.csv", "scores.csv"]);
  });

  it("says a changed set in a sentence of its own", async () => {
    const change = (bytes: Buffer) =>
      Buffer.from(bytes.toString().replace("Baetis,tolerance,5", "Baetis,tolerance,6"));
    const verification = await verifyRun(tampered("reference/sets/small-set/taxa.csv", change, true), lab);
    expect(codesOf(verification)).toContain("run-set-changed");
    expect(verification.agrees).toBe(false);
  });

  it("says another algorithm version in a sentence of its own", async () => {
    const change = (bytes: Buffer) =>
      Buffer.from(bytes.toString().replace("fixed-count-individual/1", "fixed-count-individual/9"));
    const verification = await verifyRun(tampered("run.json", change, true), lab);
    expect(verification.findings.map((one) => [one.code, one.message])).toEqual([
      [
        "run-other-algorithm",
        "the run drew with fixed-count-individual/9; this version has fixed-count-individual/1",
      ],
    ]);
  });

  it("notes another version of the program, which alone is no difference", async () => {
    const change = (bytes: Buffer) =>
      Buffer.from(bytes.toString().replace(/"version": "[^"]*"\n {2}}/, '"version": "0.0.9"\n  }'));
    const verification = await verifyRun(tampered("run.json", change, true), lab);
    expect([verification.agrees, codesOf(verification)]).toEqual([true, ["run-other-version"]]);
  });

  it("says what is missing and what was added", async () => {
    tampered("run.json", (bytes) => bytes);
    rmSync(join(lab, "copy/draw.csv"));
    writeFileSync(join(lab, "copy/notes.txt"), "mine");
    const verification = await verifyRun("copy", lab);
    const said = verification.findings.map((one) => `${one.code} ${one.file}`);
    expect(said).toContain("run-file-missing copy/draw.csv");
    expect(said).toContain("run-file-added copy/notes.txt");
  });

  it("works the run out again where only the checksums are gone, and says so", async () => {
    tampered("run.json", (bytes) => bytes);
    rmSync(join(lab, "copy/checksums.txt"));
    const verification = await verifyRun("copy", lab);
    expect(verification.findings.map((one) => `${one.code} ${one.file}`)).toEqual([
      "run-file-missing copy/checksums.txt",
    ]);
    expect([verification.agrees, verification.isRun, verification.fingerprint]).toEqual([false, true, ""]);
    // Results still follow from the rows; of what is not worked out nothing is known.
    expect(verification.files.find(({ file }) => file === "scores.csv")).toMatchObject({
      agrees: true,
      compared: "content",
    });
    expect(
      verification.files.some(({ agrees, compared }) => agrees === undefined && compared === "nothing"),
    ).toBe(true);
  });

  it("says what is missing in place of a file that was taken away or turned into a folder", async () => {
    tampered("run.json", (bytes) => bytes);
    rmSync(join(lab, "copy/scores.csv"));
    rmSync(join(lab, "copy/metrics.csv"));
    mkdirSync(join(lab, "copy/metrics.csv"));
    const verification = await verifyRun("copy", lab);
    for (const file of ["scores.csv", "metrics.csv"]) {
      const said = verification.findings.filter((one) => one.file === `copy/${file}`).map(({ code }) => code);
      expect(said).toEqual(["run-file-missing", "run-result-differs"]);
    }
    expect(verification.agrees).toBe(false);
  });

  it("answers no when run.json is taken away", async () => {
    tampered("run.json", (bytes) => bytes);
    rmSync(join(lab, "copy/run.json"));
    const verification = await verifyRun("copy", lab);
    expect(verification.findings.map((one) => one.message)).toContain(
      "run.json cannot be read as a run: it is missing",
    );
    expect([verification.agrees, verification.record]).toEqual([false, undefined]);
  });

  it("says another way of normalising names in a sentence of its own", async () => {
    const { name_key: key } = JSON.parse(readFileSync(join(lab, "run/run.json"), "utf8")).algorithms;
    const change = (bytes: Buffer) => Buffer.from(bytes.toString().replace(`"${key}"`, '"name-key/9"'));
    const verification = await verifyRun(tampered("run.json", change, true), lab);
    expect(verification.findings.map((one) => [one.code, one.message])).toEqual([
      ["run-other-algorithm", `the run normalised names with name-key/9; this version has ${key}`],
    ]);
  });

  it("says of a folder that has nothing of a run that it is none", async () => {
    mkdirSync(join(lab, "nothing"));
    const verification = await verifyRun("nothing", lab);
    expect([verification.isRun, verification.agrees, verification.files]).toEqual([false, false, []]);
    expect(verification.findings[0]?.message).toBe(
      "this is no run: there is neither run.json nor checksums.txt in it",
    );
  });

  it.each([
    ["no JSON", (_: Buffer) => Buffer.from("{"), "run.json cannot be read as a run: it is no JSON"],
    [
      "another form",
      (bytes: Buffer) => Buffer.from(bytes.toString().replace('"seed": "1"', '"seed": 1')),
      "run.json cannot be read as a run: options.seed: Invalid input: expected string, received number",
    ],
    [
      "a set that is not there",
      (bytes: Buffer) => Buffer.from(bytes.toString().replace('"id": "small-set"', '"id": "other-set"')),
      "no such file or folder",
    ],
  ])("answers no when run.json is %s", async (_, change, message) => {
    const verification = await verifyRun(tampered("run.json", change, true), lab);
    expect(verification.agrees).toBe(false);
    expect(verification.findings.map((one) => [one.code, one.message])).toEqual([
      ["run-unreadable", message],
    ]);
  });
});
