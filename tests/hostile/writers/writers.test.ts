import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";

const runner = join(import.meta.dirname, "run.mjs");

it("programs that write to one place at the same time leave one whole output", { timeout: 300_000 }, () => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [runner, "4", "1"], { encoding: "utf8" });
  expect(stdout + stderr).toBe("3 times 4 writers, 0 wrong\n");
  expect(status).toBe(0);
});
