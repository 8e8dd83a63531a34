import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { benchRowsOf, csvRows, demoRows, demoText, type Row } from "./demo-files.ts";

const README = demoText("README.md");
const LOG = demoRows("sample-log.csv");
const BENCH = demoRows("bench-sheet.csv");
const NAMES = demoRows("names.csv");
const TAXA = csvRows(readFileSync(new URL("../../reference-tables/taxa/taxa.csv", import.meta.url), "utf8"));
const SYNONYMS = csvRows(
  readFileSync(new URL("../../reference-tables/taxa/synonyms.csv", import.meta.url), "utf8"),
);

const idsOf = (rows: readonly Row[], column = "sample_id") => [...new Set(rows.map((row) => row[column]))];
const animals = (rows: readonly Row[]) => rows.reduce((sum, row) => sum + Number(row.count), 0);
const logOf = (sampleId: string) => LOG.find((row) => row.sample_id === sampleId);

describe("the batch", () => {
  it("is 37 samples of 12 sites, four in each region, every site visited three times", () => {
    expect(LOG).toHaveLength(37);
    expect(idsOf(LOG)).toHaveLength(37);
    for (const stratum of ["upland", "valley", "lowland"]) {
      expect(
        idsOf(
          LOG.filter((row) => row.stratum === stratum),
          "site_id",
        ),
      ).toHaveLength(4);
    }
    const visits = LOG.filter((row) => row.duplicate_of === "").map((row) => row.site_id);
    expect(idsOf(LOG, "site_id").map((site) => visits.filter((one) => one === site).length)).toEqual(
      Array(12).fill(3),
    );
  });

  it("names the same samples, in the same order, in the log and on the bench sheet", () => {
    expect(idsOf(BENCH)).toEqual(idsOf(LOG));
  });

  it("counts 80 to 900 animals and 15 to 50 names a sample", () => {
    for (const id of idsOf(LOG)) {
      const rows = benchRowsOf(id ?? "");
      expect(animals(rows), id).toBeGreaterThanOrEqual(80);
      expect(animals(rows), id).toBeLessThanOrEqual(900);
      expect(idsOf(rows, "taxon").length, id).toBeGreaterThanOrEqual(15);
      expect(idsOf(rows, "taxon").length, id).toBeLessThanOrEqual(50);
    }
  });

  it("was received after it was collected, all in 2023 and 2024", () => {
    for (const row of LOG) {
      expect(/^202[34]-\d\d-\d\d$/.test(row.collected_on ?? ""), row.sample_id).toBe(true);
      expect((row.received_on ?? "") > (row.collected_on ?? ""), row.sample_id).toBe(true);
    }
  });

  it("lies in the open ocean, within a degree of one point", () => {
    // 47 S, 124 W: thousands of kilometres of the southern Pacific in every direction (general knowledge).
    for (const row of LOG) {
      expect(Math.abs(Number(row.latitude) + 47.5), row.sample_id).toBeLessThan(0.5);
      expect(Math.abs(Number(row.longitude) + 124.5), row.sample_id).toBeLessThan(0.5);
    }
  });

  it("gives the fraction sorted only where it is exactly the grids sorted of the 30 of the tray", () => {
    for (const row of LOG) {
      const grids = Number(row.grids_sorted);
      expect(grids >= 4 && grids <= 30, row.sample_id).toBe(true);
      // In tenths, so that no rounding of halves of bits can hide a difference.
      const tenths = row.fraction_sorted === "" ? undefined : Math.round(Number(row.fraction_sorted) * 10);
      expect(tenths, row.sample_id).toBe(grids % 3 === 0 ? grids / 3 : undefined);
    }
  });

  it("has whole counts of one or more, and no row twice", () => {
    const keys = BENCH.map((row) =>
      [row.sample_id, row.taxon, row.life_stage, row.container, row.part, row.disposition].join("|"),
    );
    expect(new Set(keys).size).toBe(keys.length);
    for (const row of BENCH) expect(row.count, row.taxon).toMatch(/^[1-9]\d*$/);
  });
});

describe("the names", () => {
  const known = new Set(TAXA.map((row) => row.taxon));

  it("are taxa of the shipped tree, save the two that only names.csv resolves", () => {
    expect(idsOf(BENCH, "taxon").filter((name) => !known.has(name))).toEqual(["Rithrogenna", "Cottus"]);
    const shipped = new Set(SYNONYMS.map((row) => row.name));
    expect(["Rithrogenna", "Cottus"].filter((name) => shipped.has(name))).toEqual([]);
  });

  it("of names.csv lead to taxa of the tree, and each stands on the sheet", () => {
    expect(NAMES.filter((row) => !known.has(row.accepted_name)).map((row) => row.sheet_name)).toEqual([]);
    const onSheet = new Set(BENCH.map((row) => row.taxon));
    expect(NAMES.filter((row) => !onSheet.has(row.sheet_name)).map((row) => row.sheet_name)).toEqual([]);
  });

  it("that the shipped synonyms doubt are all decided in names.csv", () => {
    const doubted = new Set(
      SYNONYMS.filter((row) => row.kind === "ambiguous" || row.kind === "in-part").map((row) => row.name),
    );
    const decided = new Set(NAMES.map((row) => row.sheet_name));
    expect(idsOf(BENCH, "taxon").filter((name) => doubted.has(name) && !decided.has(name))).toEqual([]);
  });
});

describe("the README", () => {
  it("says plainly that everything is invented", () => {
    expect(README).toContain("**Everything here is invented**");
  });

  it("states the rows of each file", () => {
    for (const [name, rows] of [
      ["bench-sheet.csv", BENCH],
      ["sample-log.csv", LOG],
      ["names.csv", NAMES],
    ] as const) {
      const stated = new RegExp(`\\| \`${name.replace(".", "\\.")}\` *\\|[^|]*\\| *(\\d+) *\\|`).exec(README);
      expect(stated?.[1], name).toBe(String(rows.length));
    }
  });

  it("lists every sample that carries something unusual, and no sample that does not exist", () => {
    const usual = new Set(["", "larva", "nymph", "adult"]);
    const unusual = BENCH.filter(
      (row) =>
        !usual.has(row.life_stage ?? "") ||
        [row.container, row.part, row.disposition, row.condition, row.note].some((cell) => cell !== ""),
    );
    const listed = [...README.matchAll(/^\| ([ULV]\d-\d{4}-\d\d(?:-D)?) *\|/gm)].map((match) => match[1]);
    const small = LOG.filter((row) => animals(benchRowsOf(row.sample_id ?? "")) < 220);
    for (const row of [...unusual, ...small]) expect(listed).toContain(row.sample_id);
    expect(listed.filter((id) => logOf(id ?? "") === undefined)).toEqual([]);
  });
});

describe("each trouble", () => {
  const rowsWith = (column: string, value: string) =>
    BENCH.filter((row) => row[column] === value).map((row) => `${row.sample_id} ${row.taxon} ${row.count}`);

  it("that must not count is there", () => {
    expect(rowsWith("life_stage", "exuviae")).toEqual(["U1-2023-06 Pteronarcys 3"]);
    expect(rowsWith("life_stage", "case")).toEqual(["V4-2023-05 Glossosoma 9"]);
    expect(rowsWith("life_stage", "shell")).toEqual(["V4-2023-05 Juga 6"]);
    expect(rowsWith("disposition", "released")).toEqual(["L1-2024-09 Gonidea 3"]);
    expect(rowsWith("taxon", "Lampyridae")).toEqual(["L2-2023-09 Lampyridae 2"]);
    expect(rowsWith("taxon", "Cottus")).toEqual(["L2-2023-09 Cottus 1"]);
    expect(BENCH.filter((row) => row.taxon === "Psephenus" && row.life_stage === "adult")).toHaveLength(1);
  });

  it("of large and rare animals is there", () => {
    expect(rowsWith("part", "large-rare")).toEqual(["U3-2024-09 Orohermes 1", "V2-2024-09 Pacifastacus 1"]);
  });

  it("of two jars is one sample in two containers, both expected and received", () => {
    const rows = benchRowsOf("V2-2023-09");
    expect(idsOf(rows, "container")).toEqual(["1 of 2", "2 of 2"]);
    expect([logOf("V2-2023-09")?.containers_expected, logOf("V2-2023-09")?.containers_received]).toEqual([
      "2",
      "2",
    ]);
    expect(idsOf(BENCH.filter((row) => row.container !== ""))).toEqual(["V2-2023-09"]);
    const inFirst = new Set(rows.filter((row) => row.container === "1 of 2").map((row) => row.taxon));
    const inBoth = rows.filter((row) => row.container === "2 of 2" && inFirst.has(row.taxon));
    expect(inBoth.length).toBeGreaterThan(10);
  });

  it("of a parent beside its children, and of a parent alone, is there", () => {
    const namesOf = (id: string) => idsOf(benchRowsOf(id), "taxon");
    expect(namesOf("V4-2023-05")).toEqual(expect.arrayContaining(["Perlidae", "Calineuria", "Hesperoperla"]));
    expect(namesOf("U1-2023-06")).toEqual(
      expect.arrayContaining(["Heptageniidae", "Epeorus", "Rhithrogena"]),
    );
    const heptageniids = TAXA.filter((row) => row.parent === "Heptageniidae").map((row) => row.taxon);
    expect(namesOf("V4-2023-05").filter((name) => heptageniids.includes(name ?? ""))).toEqual([]);
    expect(namesOf("V4-2023-05")).toContain("Heptageniidae");
  });

  it("of larvae and pupae of one taxon is there", () => {
    const stages = benchRowsOf("L1-2023-05").filter((row) => row.taxon === "Simulium");
    expect(stages.map((row) => row.life_stage).sort()).toEqual(["larva", "pupa"]);
  });

  it("of a field duplicate names a primary of the same site and day", () => {
    const duplicates = LOG.filter((row) => row.duplicate_of !== "");
    expect(duplicates.map((row) => [row.sample_id, row.duplicate_of])).toEqual([
      ["V3-2023-09-D", "V3-2023-09"],
    ]);
    const primary = logOf("V3-2023-09");
    expect(duplicates[0]?.site_id).toBe(primary?.site_id);
    expect(duplicates[0]?.collected_on).toBe(primary?.collected_on);
  });

  it("of small samples is there, each sorted whole", () => {
    for (const id of ["U4-2023-06", "V4-2023-05", "L3-2023-05"])
      expect(logOf(id)?.grids_sorted, id).toBe("30");
    expect(animals(benchRowsOf("U4-2023-06"))).toBe(85);
    expect(animals(benchRowsOf("L3-2023-05"))).toBe(151);
    expect(animals(benchRowsOf("L3-2023-09"))).toBe(897);
  });

  it("of a badly preserved jar is the only one with too little ethanol", () => {
    // Less than half of the container is urgent (common practice, no source).
    expect(LOG.filter((row) => Number(row.preservative_fraction) < 0.75).map((row) => row.sample_id)).toEqual(
      ["L4-2023-09"],
    );
  });
});
