import { chmodSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { hashFolderBeside } from "../../src/runs/checksum-thread.ts";
import { hashFolder } from "../../src/runs/checksums.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const BUILT = join(REPOSITORY, "dist/thread.cjs");
/** More than is hashed at once without a thread. */
const LARGE = 1 << 24;

/** A folder that is worth a thread. */
function largeRun(): string {
  const folder = freshFolder();
  mkdirSync(join(folder, "reference"));
  writeFileSync(join(folder, "rows.csv"), Buffer.alloc(LARGE, "1,2\n"));
  writeFileSync(join(folder, "reference/set.json"), "{}");
  return folder;
}

function workerThat(does: string): string {
  const file = join(freshFolder(), "worker.mjs");
  writeFileSync(file, does);
  return file;
}

describe("a run folder hashed in a thread", () => {
  it("has the checksums that it has without one", async () => {
    const folder = largeRun();
    const beside = await hashFolderBeside({ folder, shownAs: "run" }, 2, BUILT);
    expect(beside).toEqual(await hashFolder(folder, "run"));
    expect([...beside.keys()]).toEqual(["reference/set.json", "rows.csv"]);
  });

  it("names the file that cannot be read, as without one", async () => {
    const request = { folder: largeRun(), shownAs: "run" };
    const file = workerThat(
      'import { parentPort } from "node:worker_threads";' +
        'parentPort.postMessage({ unreadable: { path: "run/rows.csv", reason: "permission denied" } });',
    );
    await expect(hashFolderBeside(request, 2, file)).rejects.toMatchObject({
      name: "FileError",
      path: "run/rows.csv",
      reason: "permission denied",
    });
  });

  it.skipIf(process.getuid?.() === 0)("says so of a file that may not be read", async () => {
    const folder = largeRun();
    chmodSync(join(folder, "reference/set.json"), 0o000);
    const beside = hashFolderBeside({ folder, shownAs: "run" }, 2, BUILT);
    await expect(beside).rejects.toMatchObject({ name: "FileError", path: "run/reference/set.json" });
  });

  it("fails with the thread when that is lost", async () => {
    const request = { folder: largeRun(), shownAs: "run" };
    await expect(hashFolderBeside(request, 2, workerThat('throw new Error("lost");'))).rejects.toThrow(
      "lost",
    );
  });

  it("fails with a thread that ends without a word", async () => {
    const request = { folder: largeRun(), shownAs: "run" };
    await expect(hashFolderBeside(request, 2, workerThat(""))).rejects.toThrow(/ended without an answer/);
  });

  it("needs none where one thread is all, the run is small, or there is nothing to run", async () => {
    const file = workerThat('throw new Error("not to be started");');
    const folder = largeRun();
    const known = await hashFolder(folder, "run");
    expect(await hashFolderBeside({ folder, shownAs: "run" }, 1, file)).toEqual(known);
    expect(await hashFolderBeside({ folder, shownAs: "run" }, 2, join(folder, "none.js"))).toEqual(known);
    writeFileSync(join(folder, "rows.csv"), "small\n");
    expect(await hashFolderBeside({ folder, shownAs: "run" }, 2, file)).toEqual(
      await hashFolder(folder, "run"),
    );
    const empty = freshFolder();
    expect([...(await hashFolderBeside({ folder: empty, shownAs: "run" }, 2, file))]).toEqual([]);
  });
});
