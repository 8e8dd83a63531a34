import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { demoText } from "./demo-files.ts";

const DEMO_FOLDER = fileURLToPath(new URL("../../demo-data", import.meta.url));
const GENERATED = ["bench-sheet.csv", "names.csv", "sample-log.csv"];

describe("generate.mjs", () => {
  let folder = "";
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "jartally-demo-"));
  });
  afterEach(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it("remakes every generated file byte for byte in a folder that it makes", () => {
    const target = join(folder, "made", "here");
    const run = spawnSync(process.execPath, [join(DEMO_FOLDER, "generate.mjs"), target], {
      encoding: "utf8",
    });
    expect({ status: run.status, stderr: run.stderr, stdout: run.stdout }).toEqual({
      status: 0,
      stderr: "",
      stdout: "",
    });
    expect(readdirSync(target).sort()).toEqual(GENERATED);
    for (const name of GENERATED) {
      expect(readFileSync(join(target, name)).equals(Buffer.from(demoText(name))), name).toBe(true);
    }
  });

  it("writes beside itself when no folder is given, whatever the current folder is", () => {
    const copy = join(folder, "copy");
    cpSync(DEMO_FOLDER, copy, { recursive: true });
    for (const name of GENERATED) rmSync(join(copy, name));
    const run = spawnSync(process.execPath, [join(copy, "generate.mjs")], {
      encoding: "utf8",
      cwd: tmpdir(),
    });
    expect(run.stderr).toBe("");
    expect(run.status).toBe(0);
    for (const name of GENERATED) {
      expect(readFileSync(join(copy, name), "utf8"), name).toBe(demoText(name));
    }
  });

  it("does not depend on the time zone or the language of the machine", () => {
    const env = { ...process.env, TZ: "Pacific/Kiritimati", LANG: "tr_TR.UTF-8", LC_ALL: "tr_TR.UTF-8" };
    const run = spawnSync(process.execPath, [join(DEMO_FOLDER, "generate.mjs"), folder], { env });
    expect(run.status).toBe(0);
    for (const name of GENERATED) expect(readFileSync(join(folder, name), "utf8"), name).toBe(demoText(name));
  });
});
