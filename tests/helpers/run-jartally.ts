import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll } from "vitest";
import { removeFolder } from "./remove-folder.ts";

export const REPOSITORY = resolve(import.meta.dirname, "../..");
const BIN = join(REPOSITORY, "bin/jartally.js");

/** Where the program leaves what it ran, when `npm run coverage` asks for it. */
const MEASURED: Readonly<Record<string, string>> =
  process.env.JARTALLY_COVERAGE === undefined ? {} : { NODE_V8_COVERAGE: process.env.JARTALLY_COVERAGE };

export interface RunResult {
  readonly stdout: string;
  readonly stderr: string;
  readonly status: number | null;
}

export interface RunOptions {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly stdin?: string | Uint8Array;
}

/** Runs the built program as a user would, in a bare environment, and waits for it. */
export function runJartally(words: readonly string[], options: RunOptions = {}): RunResult {
  const result = spawnSync(process.execPath, [BIN, ...words], {
    cwd: options.cwd ?? REPOSITORY,
    env: { PATH: process.env.PATH ?? "", TZ: "UTC", LC_ALL: "C", ...MEASURED, ...options.env },
    input: options.stdin ?? "",
    encoding: "utf8",
    maxBuffer: 1 << 28,
    timeout: 60_000,
  });
  return { stdout: result.stdout, stderr: result.stderr, status: result.status };
}

const folders: string[] = [];

function removeFolders(): void {
  for (const folder of folders.splice(0)) removeFolder(folder);
}

// Asked for while the test file loads: within a test it would come too late, and nothing would be removed. Helpers
// also serve programs beside the tests (fuzzing, studies), which know no test files.
if (process.env.VITEST === undefined) process.once("exit", removeFolders);
// A busy disk takes long over thousands of folders.
else afterAll(removeFolders, 300_000);

/** A fresh folder that is removed when the test file is done. */
export function freshFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "jartally-test-"));
  folders.push(folder);
  return folder;
}

/** A fresh folder with a copy of the demo data in it. */
export function demoFolder(): string {
  const folder = freshFolder();
  cpSync(join(REPOSITORY, "demo-data"), folder, { recursive: true });
  return folder;
}
