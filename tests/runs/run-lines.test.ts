import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, expect, it, vi } from "vitest";
import { nodeFileSystem } from "../../src/files/file-system.ts";
import { runLines } from "../../src/runs/run-lines.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

/** Counts the files that are opened and those that are closed again. */
function countOpen(): { opened: number; closed: number } {
  const counts = { opened: 0, closed: 0 };
  const openToRead = nodeFileSystem.openToRead.bind(nodeFileSystem);
  vi.spyOn(nodeFileSystem, "openToRead").mockImplementation(async (path) => {
    const file = await openToRead(path);
    counts.opened++;
    return {
      ...file,
      async close() {
        counts.closed++;
        await file.close();
      },
    };
  });
  return counts;
}
afterEach(() => vi.restoreAllMocks());

async function textOf(folder: string, most = Number.POSITIVE_INFINITY): Promise<string> {
  let text = "";
  let pieces = 0;
  for await (const lines of runLines({ path: folder, shownAs: "run" }, "rows.csv")) {
    text += Buffer.from(lines).toString();
    if (++pieces >= most) break;
  }
  return text;
}

it("gives all lines, the last one with or without a line feed, and closes the file", async () => {
  const folder = freshFolder();
  const counts = countOpen();
  for (const text of ["a\nb\n", "a\nb", "", `${"x".repeat(3_000_000)}\ny\n`]) {
    writeFileSync(join(folder, "rows.csv"), text);
    expect(await textOf(folder)).toBe(text);
  }
  expect(counts).toEqual({ opened: 4, closed: 4 });
});

it("closes the file too where its reader stops early, or meets bytes that are no text", async () => {
  const folder = freshFolder();
  const counts = countOpen();
  writeFileSync(join(folder, "rows.csv"), "row\n".repeat(1_000_000));
  await textOf(folder, 1);
  expect(counts).toEqual({ opened: 1, closed: 1 });
  writeFileSync(join(folder, "rows.csv"), Buffer.from([0x61, 0xff, 0x0a]));
  await expect(textOf(folder)).rejects.toThrow("run/rows.csv: is not UTF-8 text");
  expect(counts).toEqual({ opened: 2, closed: 2 });
});

it("says which file is not there", async () => {
  await expect(textOf(freshFolder())).rejects.toThrow(/^run\/rows\.csv: no such file/);
});
