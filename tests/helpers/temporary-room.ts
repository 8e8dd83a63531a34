import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { removeFolder } from "./remove-folder.ts";

/** What `os.tmpdir` goes by, on any system. */
const PLACES = ["TMPDIR", "TEMP", "TMP"];

/**
 * Runs once around all tests: whatever they make in the temporary folder of the system goes into one room, which is
 * removed at the end, also after tests that failed or were broken off.
 */
export function setup(): () => void {
  const room = mkdtempSync(join(tmpdir(), "jartally-tests-"));
  const before = PLACES.map((place) => process.env[place]);
  for (const place of PLACES) process.env[place] = room;
  return () => {
    PLACES.forEach((place, index) => {
      if (before[index] === undefined) delete process.env[place];
      else process.env[place] = before[index];
    });
    removeFolder(room);
  };
}
