import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, REPOSITORY, runJartally } from "../helpers/run-jartally.ts";
import { row, writeSet } from "../helpers/sets.ts";

const records = (text: string): Record<string, string>[] => parse(text, { columns: true });

describe("reference list", () => {
  it("shows every set of the package and of the current folder, with how it was checked", () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "reference-tables/sets"), { recursive: true });
    cpSync(writeSet({}), join(cwd, "reference-tables/sets/bare"), { recursive: true });
    const result = runJartally(["reference", "list"], { cwd });
    expect([result.status, result.stderr]).toEqual([0, ""]);
    const rows = records(result.stdout);
    const shipped = readdirSync(join(REPOSITORY, "reference-tables/sets"));
    expect(rows.map((one) => one.set)).toEqual([...shipped, "bare"].sort());
    expect(rows.find((one) => one.set === "pacific-streamkeepers")?.verification).toBe("checked");
    expect(rows.find((one) => one.set === "west-virginia-family-2000")?.season).toBe("04-01 to 10-31");
  });

  it("goes on past a set that cannot be read", () => {
    const cwd = freshFolder();
    const folder = join(cwd, "reference-tables/sets/broken");
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, "set.json"), "{");
    const result = runJartally(["reference", "list", "--format", "csv"], { cwd });
    expect(result.status).toBe(3);
    expect(result.stderr).toContain(
      "reference-tables/sets/broken/set.json:1:2 error bad-set a key in quotes belongs here",
    );
    expect(records(result.stdout).length).toBe(readdirSync(join(REPOSITORY, "reference-tables/sets")).length);
  });
});

describe("reference show", () => {
  it("is a page for a person: what it holds for, how it was checked, limits, classes, sources, cautions", () => {
    const result = runJartally(["reference", "show", "puget-lowland-genus-1999", "--format", "table"]);
    expect(result.status).toBe(0);
    const page = result.stdout.replace(/\s+/g, " ");
    for (const text of [
      "puget-lowland-genus-1999 1.0.0: Benthic index",
      "How its numbers were checked verification memory: Every interval of the scoring table was read",
      "tolerance not held: tolerant and intolerant taxa",
      "total_taxa from 0 to below 14: 1; from 14 up to 28: 3; above 28: 5",
      "percent_dominant_three percent_three_dominant_taxa; published with a gap; a value in it takes the score nearest to the middle",
      "poor from 18 up to 26",
      "[seen: every interval of the table]",
      "a score means nothing without the responsible agency's method",
    ]) {
      expect(page).toContain(text);
    }
    // A hash cannot be broken.
    const wide = result.stdout.split("\n").filter((line) => line.length > 80 && !/ [0-9a-f]{64}$/.test(line));
    expect(wide).toEqual([]);
  });

  it("is rows for a program", () => {
    const result = runJartally(["reference", "show", "bmwp-aspt-1983"]);
    const rows = records(result.stdout);
    const tables = rows
      .filter((one) => one.part === "rating" && /table/.test(one.name ?? ""))
      .map((one) => one.value);
    expect(tables).toEqual([
      "bmwp-2021: sum of scores, classes of 2021",
      "aspt-2021: average score per taxon, classes of 2021",
      "bmwp-widely-quoted: sum of scores, widely quoted classes",
    ]);
    const json = JSON.parse(runJartally(["reference", "show", "bmwp-aspt-1983", "--format", "json"]).stdout);
    expect(json.schema).toBe("jartally/reference-set@1");
    expect(json.rows.length).toBe(rows.length);
    expect(json.reference.id).toBe("bmwp-aspt-1983");
  });

  it("names close ids for one that is not there", () => {
    const result = runJartally(["reference", "show", "vennalo"]);
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).toBe(
      'jartally: there is no reference set "vennalo"; did you mean "vennaloo-demo"? (jartally reference list shows the sets; a path to a set folder is taken too)\n',
    );
    expect(runJartally(["reference", "show", "vennaloo-dem"]).stderr).toContain(
      'did you mean "vennaloo-demo"?',
    );
    const path = runJartally(["reference", "show", "./nowhere"]);
    expect([path.status, path.stderr]).toEqual([4, "jartally: ./nowhere: no such folder\n"]);
  });
});

describe("reference check", () => {
  it("finds the package's tables and sets in order", () => {
    const result = runJartally(["reference", "check", "--quiet"]);
    expect([result.status, result.stderr]).toEqual([0, ""]);
    const rows = records(result.stdout);
    expect(rows.filter((one) => one.result === "warning" || one.result === "error")).toEqual([]);
    expect(rows.filter((one) => one.set === "(shared tables)").map((one) => one.check)).toEqual([
      "taxa",
      "synonyms",
      "life-stages",
      "schemes",
      "attributes",
      "score-as",
    ]);
  });

  it("ends with 1 when something is wrong, and says where", () => {
    const folder = writeSet({
      thresholds: [row("taxa_richness", "[0,10)", 1), row("taxa_richness", "(10,)", 5)],
    });
    const result = runJartally(["reference", "check", "./bare"], { cwd: join(folder, "..") });
    expect(result.status).toBe(1);
    expect(result.stderr).toMatch(
      /^\.\/bare\/thresholds\.csv:3:4 warning set-gap taxa_richness: 10 belongs to no class between line 2 and line 3 \(/,
    );
    const broken = writeSet({ set: "{}" });
    expect(runJartally(["reference", "check", broken]).status).toBe(1);
  });
});

describe("reference compare", () => {
  it("gives one row for each difference", () => {
    const same = runJartally(["reference", "compare", "vennaloo-demo", "vennaloo-demo"]);
    expect([same.status, same.stdout]).toEqual([0, "part,stratum,name,change,first,second\n"]);
    expect(same.stderr).toBe(
      "0 differences between vennaloo-demo 1.0.0 (first) and vennaloo-demo 1.0.0 (second)\n",
    );
    const result = runJartally([
      "reference",
      "compare",
      "puget-lowland-genus-1999",
      "puget-lowland-species-family",
    ]);
    const thresholds = records(result.stdout).filter((one) => one.part === "threshold");
    expect(thresholds[0]).toEqual({
      part: "threshold",
      stratum: "all",
      name: "total_taxa 1",
      change: "changed",
      first: "from 0 to below 14: 1",
      second: "from 0 to below 15: 1",
    });
  });
});

describe("reference new", () => {
  it("makes a copy that a changed limit changes the scores of", () => {
    const cwd = demoFolder();
    const made = runJartally(["reference", "new", "my-index", "--from", "vennaloo-demo"], { cwd });
    expect([made.status, made.stdout, made.stderr]).toEqual([
      0,
      "",
      "copied vennaloo-demo 1.0.0 into my-index; use it with --reference ./my-index\n",
    ]);
    expect(runJartally(["reference", "check", "./my-index", "-q"], { cwd }).status).toBe(0);
    const score = () => {
      const words = ["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"];
      return records(runJartally([...words, "--reference", "./my-index"], { cwd }).stdout);
    };
    const before = score();
    const file = join(cwd, "my-index/thresholds.csv");
    writeFileSync(
      file,
      readFileSync(file, "utf8").replace(
        "upland,ept_richness,value,3,yes,24,yes",
        "upland,ept_richness,value,3,yes,48,yes",
      ),
    );
    const after = score();
    const changed = after.filter((one, at) => one.index !== before[at]?.index);
    expect(new Set(changed.map((one) => one.stratum))).toEqual(new Set(["upland"]));
    const comparison = records(
      runJartally(["reference", "compare", "vennaloo-demo", "./my-index"], { cwd }).stdout,
    );
    expect(
      comparison.filter((one) => one.part === "threshold").map((one) => [one.stratum, one.name, one.second]),
    ).toEqual([["upland", "ept_richness 1", "from 3 up to 48: 0 to 10"]]);
  });

  it("never touches a folder that is there, and wants a name that can be an id", () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "taken"));
    const taken = runJartally(["reference", "new", "taken", "--from", "vennaloo-demo"], { cwd });
    expect([taken.status, taken.stderr]).toEqual([
      4,
      "jartally: taken: exists already; choose another folder\n",
    ]);
    expect(readdirSync(join(cwd, "taken"))).toEqual([]);
    const name = runJartally(["reference", "new", "My Index", "--from", "vennaloo-demo"], { cwd });
    expect([name.status, name.stderr]).toEqual([
      2,
      'jartally: "My Index" cannot be the id of a set (name the folder in lower case words joined by hyphens, for instance my-own-index)\n',
    ]);
    expect(runJartally(["reference", "new", "mine"], { cwd }).status).toBe(2);
    expect(readdirSync(cwd)).toEqual(["taken"]);
  });
});

describe("sets in use", () => {
  const sheet = "sample_id,taxon,count\nS,Baetis,80\nS,Hydropsyche,60\nS,Chironomidae,60\n";
  const score = (words: readonly string[], files: Readonly<Record<string, string>> = {}) => {
    const cwd = freshFolder();
    for (const [name, text] of Object.entries({ "sheet.csv": sheet, ...files }))
      writeFileSync(join(cwd, name), text);
    return runJartally(["score", "sheet.csv", ...words], { cwd });
  };

  it("refuse counts when the method's list is not held, and say with every score that a stand-in was used", () => {
    const refused = score(["--reference", "west-virginia-family-2000"]);
    expect([refused.status, refused.stdout]).toEqual([3, ""]);
    expect(refused.stderr).toContain("error attributes-not-held tolerance: the method's own list");
    const own = score(["--reference", "west-virginia-family-2000", "--attributes", "mine.csv"], {
      "mine.csv": "taxon,value\nBaetidae,4\nHydropsychidae,4\nChironomidae,6\n",
    });
    expect(own.status).toBe(0);
    const [sample] = records(own.stdout);
    expect([sample?.status, sample?.flags, sample?.family_biotic_index]).toEqual([
      "flagged",
      "other-attributes",
      "4.6",
    ]);
    expect(own.stderr).toContain("tolerance from mine.csv, NOT the method's own list");
  });

  it("print what they were made for, how they were checked and which class table is in force", () => {
    const result = score(["--reference", "bmwp-aspt-1983", "--classes", "aspt-2021"]);
    expect(result.status).toBe(0);
    expect(result.stderr).toContain(
      "set bmwp-aspt-1983 1.0.0 (recalled from memory, at least in part: check before use)",
    );
    expect(result.stderr.replace(/\s+/g, " ")).toContain(
      "made for: Rivers and streams of Great Britain; three-minute kick samples with a search by hand; family level, worms as one class. Outside that region, season, gear and level a score means nothing without the responsible agency's method",
    );
    expect(result.stderr).toContain("class table aspt-2021: average score per taxon, classes of 2021");
    const [sample] = records(result.stdout);
    // Baetidae 4, Hydropsychidae 5, Chironomidae 2: 11 / 3 = 3.67.
    expect([sample?.index, sample?.rating, sample?.bmwp_score]).toEqual(["3.7", "poor", "11"]);
    const wrong = score(["--reference", "bmwp-aspt-1983", "--classes", "aspt-2020"]);
    expect([wrong.status, wrong.stderr]).toEqual([
      2,
      'jartally: the set bmwp-aspt-1983 has no class table "aspt-2020"; did you mean "aspt-2021"? (it has bmwp-2021, aspt-2021, bmwp-widely-quoted)\n',
    ]);
  });

  it("score metric values, and only those options that are about them", () => {
    const values = { "sheet.csv": "sample_id,biotic_index\nS,3.505\n" };
    const result = score(["--from", "metrics", "--reference", "hilsenhoff-biotic-index-1987"], values);
    const [sample] = records(result.stdout);
    expect([sample?.index, sample?.rating]).toEqual(["3.51", "very good"]);
    const seed = score(
      ["--from", "metrics", "--seed", "7", "--reference", "hilsenhoff-biotic-index-1987"],
      values,
    );
    expect([seed.status, seed.stderr]).toEqual([
      2,
      "jartally: --seed is about counts and does nothing with --from metrics (see jartally help score)\n",
    ]);
  });

  it("take metric values of other sets that need lists which are not held", () => {
    const table =
      "sample_id,total_families,ept_families,percent_ept,percent_chironomidae,percent_two_dominant,family_biotic_index\nS,21,13,91.9,0.98,36,2.9\n";
    const result = score(["--from", "metrics", "--reference", "west-virginia-family-2000"], {
      "sheet.csv": table,
    });
    const [sample] = records(result.stdout);
    expect([result.status, sample?.index, sample?.rating, sample?.flags]).toEqual([
      0,
      "100",
      "very good",
      "",
    ]);
  });
});
