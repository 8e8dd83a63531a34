import { spawnSync } from "node:child_process";
import { closeSync, openSync, writeSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const SAMPLES = 10_000;
const TAXA = ["Baetis", "Caenis", "Chironomidae", "Juga", "Tubifex", "Hydropsyche", "Simulium", "Elmidae"];
const REPEATS = 5;

/** A sheet of 400,000 rows (13 MB), written piece by piece. */
function writeSheet(path: string): number {
  const file = openSync(path, "w");
  let bytes = writeSync(file, "sample_id,taxon,count,container,note\n");
  for (let s = 0; s < SAMPLES; s++) {
    let piece = "";
    for (let jar = 1; jar <= REPEATS; jar++)
      for (const taxon of TAXA) piece += `VN-${s},${taxon},${jar},${jar} of ${REPEATS},seen in jar ${jar}\n`;
    bytes += writeSync(file, piece);
  }
  closeSync(file);
  return bytes;
}

it("a sheet of 400,000 rows is checked in a heap of 96 MB", { timeout: 180_000 }, () => {
  const folder = freshFolder();
  expect(writeSheet(join(folder, "large.csv"))).toBeGreaterThan(12e6);
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [
      "--max-old-space-size=96",
      join(REPOSITORY, "bin/jartally.js"),
      "check",
      "large.csv",
      "--max-findings",
      "1",
    ],
    { cwd: folder, encoding: "utf8", maxBuffer: 1 << 28, env: { PATH: process.env.PATH ?? "" } },
  );
  expect([status, stderr.match(/^samples: .*$/m)?.[0]]).toEqual([0, `samples: ${SAMPLES} ready`]);
  const lines = stdout.trimEnd().split("\n");
  expect(lines).toHaveLength(SAMPLES + 1);
  // 1 + 2 + 3 + 4 + 5 animals of each taxon.
  expect(lines.at(-1)).toBe(`VN-${SAMPLES - 1},,,ready,${15 * TAXA.length},,,`);
});
