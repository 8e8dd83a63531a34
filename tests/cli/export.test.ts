import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { unzipSync } from "fflate";
import { beforeAll, describe, expect, it } from "vitest";
import { runJartally } from "../helpers/run-jartally.ts";
import { smallLab } from "../helpers/small-lab.ts";

const SHEET = `sample_id,taxon,count,life_stage,disposition,container
S-1,Baetis,10,larva,,1
S-1,Leuctra,10,larva,,1
S-1,Baetis,2,larva,,2
S-2,Baetis,3,larva,,1
S-2,Zzyzx,1,larva,,1
S-3,Gammarus,30,,,1
S-3,Unionidae,2,,released,1
S-3,Glossosoma,4,case,,1
S-4,Gammarus,5,,,1
`;
const LOG = `sample_id,site_id,collected_on,project,latitude,longitude,note
S-1,A,2024-06-01,Survey,-47.1681,-124.2731,=1+1
S-2,B,2024-06-02,Survey,-47.2,-124.3,
S-3,C,2024-06-03,Survey,-47.3456,-124.4567,by the old mill
S-4,C,2025-06-03,Survey,-47.3456,-124.4567,
`;

let lab = "";
const run = (...words: string[]) => runJartally(words, { cwd: lab });
const text = (path: string) => readFileSync(join(lab, path), "utf8");

beforeAll(() => {
  lab = smallLab();
  writeFileSync(join(lab, "sheet.csv"), SHEET);
  writeFileSync(join(lab, "log.csv"), LOG);
  run(
    "score",
    "sheet.csv",
    "--samples",
    "log.csv",
    "--reference",
    "./small-set",
    "--run",
    "run",
    "-q",
    "-o",
    "s.csv",
  );
});

describe("export --as darwin-core", () => {
  it("writes the tables, their description, and all of it as one archive", () => {
    const result = run("export", "run", "--as", "darwin-core", "-o", "dwc");
    expect([result.status, result.stdout]).toEqual([0, ""]);
    expect(result.stderr).toContain(
      "dwc: event.csv 8 rows, occurrence.csv 6 rows, extended-measurement-or-fact.csv 24 rows, humboldt.csv 3 rows\n",
    );
    expect(result.stderr).toContain("1 sample refused or held back: an event without animals and figures\n");
    expect(result.stderr).toContain("2 samples with the place rounded to 0.1 degree");
    expect(result.stderr).toContain("no legal determination");
    const archive = unzipSync(readFileSync(join(lab, "dwc/darwin-core-archive.zip")));
    expect(readdirSync(join(lab, "dwc")).sort()).toEqual(
      [...Object.keys(archive), "darwin-core-archive.zip"].sort(),
    );
    for (const [file, bytes] of Object.entries(archive))
      expect(Buffer.from(bytes).toString("utf8")).toBe(text(`dwc/${file}`));
  });

  it("gives animals with jars summed, remains and released ones told apart", () => {
    const rows = text("dwc/occurrence.csv").trimEnd().split("\n");
    const header = (rows[0] ?? "").split(",");
    const column = (name: string) => header.indexOf(name);
    const cells = rows.slice(1).map((row) => row.split(","));
    expect(
      cells.map((row) =>
        ["eventID", "scientificName", "individualCount", "lifeStage", "basisOfRecord"].map(
          (name) => row[column(name)],
        ),
      ),
    ).toEqual([
      ["sample:S-1", "Baetis", "12", "larva", "PreservedSpecimen"],
      ["sample:S-1", "Leuctra", "10", "larva", "PreservedSpecimen"],
      ["sample:S-3", "Gammarus", "30", "", "PreservedSpecimen"],
      ["sample:S-3", "Glossosoma", "4", "", "PreservedSpecimen"],
      ["sample:S-3", "Unionidae", "2", "", "HumanObservation"],
      ["sample:S-4", "Gammarus", "5", "", "PreservedSpecimen"],
    ]);
  });

  it("keeps the place of protected animals, also of a year in which none was found, unless asked", () => {
    const events = text("dwc/event.csv");
    expect(events).not.toMatch(/47\.3456|124\.4567|mill/);
    expect(events.match(/-47\.3,-124\.5,/g)).toHaveLength(4);
    expect(events).toContain("-47.1681,-124.2731");
    expect(run("export", "run", "--as", "darwin-core", "--exact-places", "-o", "exact").status).toBe(0);
    expect(text("exact/event.csv").match(/-47\.3456,-124\.4567,/g)).toHaveLength(4);
  });

  it("lets no note run as a formula", () => {
    expect(text("dwc/event.csv")).toContain(",'=1+1\n");
  });

  it("gives the same bytes again, also in another time zone", () => {
    const words = ["export", "run", "--as", "darwin-core", "-o", "again"];
    expect(runJartally(words, { cwd: lab, env: { TZ: "Pacific/Auckland" } }).status).toBe(0);
    for (const file of readdirSync(join(lab, "dwc")))
      expect(readFileSync(join(lab, "again", file)).equals(readFileSync(join(lab, "dwc", file)))).toBe(true);
  });

  it("keeps its ids and animals when the rows come in another order and another seed draws", () => {
    writeFileSync(
      join(lab, "sheet-2.csv"),
      SHEET.split("\n")
        .reverse()
        .filter((line) => line.startsWith("S-"))
        .join("\n")
        .replace(/^/, "sample_id,taxon,count,life_stage,disposition,container\n"),
    );
    run(
      "score",
      "sheet-2.csv",
      "--samples",
      "log.csv",
      "--reference",
      "./small-set",
      "--seed",
      "7",
      "--run",
      "run-2",
      "-q",
      "-o",
      "s2.csv",
    );
    run("export", "run-2", "--as", "darwin-core", "-o", "dwc-2");
    expect(text("dwc-2/occurrence.csv")).toBe(text("dwc/occurrence.csv"));
  });
});

describe("export --as water-quality-exchange", () => {
  it("writes animals, metrics and indices", () => {
    const result = run("export", "run", "--as", "water-quality-exchange", "-o", "wqx");
    expect(result.status).toBe(0);
    expect(result.stderr).toContain("wqx: results.csv 5 rows, metrics.csv 6 rows, indices.csv 3 rows\n");
    expect(text("wqx/indices.csv").split("\n")[1]).toMatch(/^S-1:small-set,small-set,[0-9.]+,,"?rating: /);
    expect(text("wqx/results.csv")).toMatch(
      /^Survey,C,S-3,.*,Unionidae,.*put back alive, not part of the index/m,
    );
  });
});

describe("export", () => {
  it("refuses wrong words with 2 and writes nothing", () => {
    for (const words of [
      ["run", "-o", "x"],
      ["run", "--as", "darwin-core"],
      ["run", "--as", "darwin-core", "-o", "-"],
      ["run", "--as", "parchment", "-o", "x"],
      ["run", "--as", "darwin-core", "-o", "run/x"],
    ]) {
      const result = run("export", ...words);
      expect([result.status, result.stdout], words.join(" ")).toEqual([2, ""]);
      expect(result.stderr).not.toMatch(/\n\s+at /);
    }
    expect(existsSync(join(lab, "x"))).toBe(false);
    expect(run("verify", "run", "-q", "-o", "v.csv").status).toBe(0);
  });

  it("never writes over a folder, and ends with 4 without a run", () => {
    const taken = run("export", "run", "--as", "darwin-core", "-o", "dwc");
    expect(taken.status).toBe(4);
    expect(taken.stderr).toContain("dwc");
    expect(taken.stderr).toContain("exists already");
    expect(run("export", "nowhere", "--as", "darwin-core", "-o", "x").status).toBe(4);
    expect(existsSync(join(lab, "x"))).toBe(false);
  });
});
