import { chmodSync, existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { expect, it } from "vitest";
import { removeFolder } from "./remove-folder.ts";
import { freshFolder } from "./run-jartally.ts";

it("a folder is removed with what nobody may read or enter", () => {
  const folder = join(freshFolder(), "locked");
  mkdirSync(join(folder, "within"), { recursive: true });
  writeFileSync(join(folder, "within", "file"), "", { mode: 0 });
  chmodSync(join(folder, "within"), 0);
  chmodSync(folder, 0o500);
  removeFolder(folder);
  expect(existsSync(folder)).toBe(false);
});

it("temporary folders of tests lie in the one room that is removed after all tests", () => {
  const made = basename(freshFolder());
  expect(basename(tmpdir())).toMatch(/^jartally-tests-/);
  expect(readdirSync(tmpdir())).toContain(made);
});
