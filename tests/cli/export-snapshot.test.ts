import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { runJartally } from "../helpers/run-jartally.ts";
import { smallLab } from "../helpers/small-lab.ts";

/*
 * A small export, kept byte for byte: what another system has taken in once has to come out the same next time.
 * UPDATE_DOCS=1 rewrites the files; look at every line of the difference before it is committed. The hash of the
 * set covers the shared tables, which change more often, so it is masked.
 */
const KEPT = fileURLToPath(new URL("../exchange/snapshot", import.meta.url));

const SHEET = `sample_id,taxon,count,life_stage,disposition,container,identifier,comment
S-1,Baetis,10,larva,,1,TRV,
S-1,Leuctra,10,larva,,1,TRV,"one, without gills"
S-1,Baetis,2,larva,,2,KMO,
S-1,Chironomidae,3,pupa,,2,TRV,
S-2,Baetis,3,larva,,1,TRV,
S-2,Zzyzx,1,larva,,1,TRV,
S-3,Gammarus,30,,,1,TRV,
S-3,Unionidae,2,,released,1,,
S-3,Glossosoma,4,case,,1,TRV,
S-4,Gammarus,5,,,1,TRV,
S-4,Leuctra,3,larva,,1,TRV,
S-5,Baetis,8,larva,,1,TRV,
`;
const LOG = `sample_id,site_id,collected_on,project,waterbody,latitude,longitude,datum,gear,mesh_um,area_sampled_m2,fraction_sorted,target,duplicate_of,note
S-1,A,2024-06-01,Survey,Ostrimel Brook,-47.1681,-124.2731,WGS84,D-frame net,500,0.72,0.25,300,,=1+1
S-2,B,2024-06-02,Survey,Vennaloo River,-47.2,-124.3,WGS84,D-frame net,500,0.72,1,300,,
S-3,C,2024-06-03,Survey,Vennaloo River,-47.3456,-124.4567,WGS84,kick net,500,1,0.5,,,by the old mill
S-4,C,2025-06-03,Survey,Vennaloo River,-47.3456,-124.4567,WGS84,kick net,500,1,1,,,
S-5,A,2024-06-01,Survey,Ostrimel Brook,-47.1681,-124.2731,WGS84,D-frame net,500,0.72,1,300,S-1,
`;

let lab = "";

beforeAll(() => {
  lab = smallLab();
  writeFileSync(join(lab, "sheet.csv"), SHEET);
  writeFileSync(join(lab, "log.csv"), LOG);
  const scored = "score sheet.csv --samples log.csv --reference ./small-set --run run -q -o s.csv";
  // One sample is refused.
  expect(runJartally(scored.split(" "), { cwd: lab }).status).toBe(3);
});

describe.each(["darwin-core", "water-quality-exchange"])("a small export as %s", (format) => {
  it("has the bytes that were kept", () => {
    const words = ["export", "run", "--as", format, "-q", "-o", format];
    expect(runJartally(words, { cwd: lab }).status).toBe(0);
    const written = new Map(
      readdirSync(join(lab, format))
        // The archive holds the same files; how small they get is the packer's.
        .filter((file) => !file.endsWith(".zip"))
        .sort()
        .map((file) => [
          file,
          readFileSync(join(lab, format, file), "utf8").replace(/\b[0-9a-f]{64}\b/g, "<hash>"),
        ]),
    );
    const folder = join(KEPT, format);
    if (process.env.UPDATE_DOCS === "1" && process.env.CI === undefined) {
      rmSync(folder, { recursive: true, force: true });
      mkdirSync(folder, { recursive: true });
      for (const [file, text] of written) writeFileSync(join(folder, file), text);
    }
    expect([...written.keys()]).toEqual(readdirSync(folder).sort());
    for (const [file, text] of written) expect(text, file).toBe(readFileSync(join(folder, file), "utf8"));
  });
});
