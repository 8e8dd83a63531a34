import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runInside } from "../helpers/in-process.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const SETS = join(REPOSITORY, "reference-tables/sets");

/** The strata of a set; an empty text where it has none to name. */
function stratumOf(id: string): string {
  const { strata } = JSON.parse(readFileSync(join(SETS, id, "set.json"), "utf8")) as {
    readonly strata?: readonly (string | { readonly id: string })[];
  };
  const [first] = strata ?? [];
  return typeof first === "object" ? first.id : (first ?? "");
}

/** Invented: a usual sample, one of a single row, one with a coarse name and large animals, one without animals. */
const SHEET = `sample_id,taxon,count,life_stage,part,distinct,disposition
A,Baetis,30,larva,,,
A,Zapada,12,larva,,,
A,Hydropsyche,9,larva,,,
A,Chironomidae,40,larva,,,
A,Oligochaeta,5,,,,
A,Ephemeroptera,3,larva,,no,
B,Simulium,2,larva,,,
C,Baetidae,7,larva,,yes,
C,Baetis,8,larva,,,
C,Pteronarcys,1,larva,large-rare,,
C,Margaritifera,1,,,,released
D,Baetis,0,larva,,,
`;

let cwd = "";
beforeAll(() => {
  cwd = freshFolder();
  writeFileSync(join(cwd, "sheet.csv"), SHEET);
});

describe("every set that ships", { timeout: 120_000 }, () => {
  it.each(readdirSync(SETS).sort())(
    "%s explains full, small and empty samples without a word of the program's own",
    async (id) => {
      const stratum = stratumOf(id);
      const words = [
        "explain",
        "sheet.csv",
        "--reference",
        id,
        ...(stratum === "" ? [] : ["--stratum", stratum]),
        "-q",
      ];
      for (const sample of ["A", "B", "C", "D"]) {
        for (const format of ["table", "csv"]) {
          const { status, stdout, stderr } = await runInside(
            [...words, "--sample", sample, "--format", format],
            cwd,
          );
          const told = `${sample} as ${format}: ${stderr}`;
          expect([0, 2, 3], told).toContain(status);
          // Sets of metric values cannot explain counts, and say so before the work.
          if (status === 2 || stdout === "")
            expect(stderr, told).toMatch(/^(jartally: |\S+:\d+:\d+ error )/m);
          else expect(stdout, told).toContain(format === "csv" ? `\n${sample},` : `${sample}: `);
          expect(stdout + stderr, told).not.toMatch(/undefined|NaN|Infinity|\[object|internal error/);
        }
      }
    },
  );
});
