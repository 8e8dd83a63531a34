import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, it } from "vitest";
import { REPOSITORY } from "../helpers/run-jartally.ts";

it("the guide names only tests that are there, also where the folder stands once for several", () => {
  const text = readFileSync(join(REPOSITORY, "DEVELOPERS.md"), "utf8");
  const start = text.indexOf("## Reliability");
  const table = text.slice(start, text.indexOf("\n## ", start + 1)).split("\n");
  const rows = table.filter((line) => line.startsWith("| ")).slice(2);
  expect(rows.length).toBeGreaterThan(30);
  for (const row of rows) {
    let folder = "";
    for (const [, path = ""] of row.matchAll(/`([\w/.-]+\.(?:test\.ts|mjs)|tests\/[\w/.-]+)`/g)) {
      const place = path.startsWith("tests/") ? path : join(folder, path);
      expect(existsSync(join(REPOSITORY, place)), `${place} in ${row}`).toBe(true);
      folder = dirname(place);
    }
  }
});
