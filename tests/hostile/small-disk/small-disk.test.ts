import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";

const runner = join(import.meta.dirname, "run.mjs");

it("a file system that is full ends with 4, names the file and leaves nothing behind", {
  timeout: 300_000,
}, ({ skip }) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [runner], { encoding: "utf8" });
  if (status === 0 && stdout.startsWith("left out: ")) skip(stdout.trim());
  expect(stdout + stderr).toMatch(/^1\d times full, \d times room enough, 0 wrong\n$/);
  expect(status).toBe(0);
});
