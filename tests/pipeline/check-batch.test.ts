import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runInside } from "../helpers/in-process.ts";
import { freshFolder } from "../helpers/run-jartally.ts";
import { writeSmallSet } from "../helpers/small-lab.ts";

/** A row of `check` as ndjson has it. */
interface CheckRow {
  readonly sample_id: string;
  readonly site_id: string;
  readonly collected_on: string;
  readonly readiness: string;
  readonly individuals: number | null;
  readonly flags: string;
  readonly why: string;
}

/** The rows of `check`, and the lines of its findings. */
async function checked(files: {
  sheet: string;
  log?: string;
  alerts?: string;
  set?: Record<string, unknown>;
  reference?: string;
}) {
  const lab = freshFolder();
  const words = ["check", "sheet.csv", "--today", "2024-07-01", "--format", "ndjson"];
  writeFileSync(join(lab, "sheet.csv"), files.sheet);
  if (files.log !== undefined) {
    writeFileSync(join(lab, "log.csv"), files.log);
    words.push("--samples", "log.csv");
  }
  if (files.alerts !== undefined) {
    writeFileSync(join(lab, "alerts.csv"), files.alerts);
    words.push("--alerts", "alerts.csv");
  }
  if (files.set !== undefined) {
    writeSmallSet(lab, { definition: files.set });
    words.push("--reference", "./small-set");
  }
  if (files.reference !== undefined) words.push("--reference", files.reference);
  const { stdout, stderr, status } = await runInside(words, lab);
  const rows = stdout
    .trimEnd()
    .split("\n")
    .map((line): CheckRow => JSON.parse(line));
  return { rows, said: stderr.split("\n"), status };
}
const HEAD = "sample_id,taxon,count\n";

describe("samples checked before they are scored", () => {
  it("are ready, held back, refused or missing, each with the reason", async () => {
    const { rows, status } = await checked({
      sheet: `${HEAD}A,Baetis,3\nB,Baetis,4\nC,Zzyzx,1\nD,Leuctra,x\nD,Zzyzx,2\n`,
      log: "sample_id,site_id,collected_on,containers_expected,containers_received\nA,V1,2024-06-03,1,1\nB,V2,2024-06-03,2,1\nC,V3,,2,1\nD,,,,\nE,V5,,,\nF,V6,,3,1\n",
    });
    const cells = rows.map(({ sample_id, readiness, individuals, why }) => [
      sample_id,
      readiness,
      individuals,
      why,
    ]);
    expect(cells).toEqual([
      ["A", "ready", 3, ""],
      ["B", "held-back", 4, "1 of 2 jars are in"],
      ["C", "refused", null, "unknown-taxon"],
      // Codes of all its faults, in one order.
      ["D", "refused", null, "bad-count, unknown-taxon"],
      ["E", "missing", null, "no counts"],
      ["F", "missing", null, "no counts; 1 of 3 jars are in"],
    ]);
    expect(status).toBe(3);
  });

  it("may have no log: they are known by their sheets alone", async () => {
    const { rows, status } = await checked({ sheet: `${HEAD}A,Baetis,3\nB,Leuctra,4\n` });
    expect(rows).toEqual([
      expect.objectContaining({
        sample_id: "A",
        site_id: "",
        collected_on: "",
        readiness: "ready",
        individuals: 3,
      }),
      expect.objectContaining({
        sample_id: "B",
        site_id: "",
        collected_on: "",
        readiness: "ready",
        individuals: 4,
      }),
    ]);
    expect(status).toBe(0);
  });

  it("alert of listed taxa at once", async () => {
    const alerts = "taxon,kind,note\nLeuctra,invasive,call the office\n";
    const { said, rows } = await checked({ sheet: `${HEAD}A,Baetis,3\nB,Leuctra,1\n`, alerts });
    expect(said).toContain("ALERT invasive Leuctra: B (1 Leuctra); call the office");
    expect(rows.map(({ flags }) => flags)).toEqual(["", "listed-taxon"]);
  });
});

describe("samples checked against a set", () => {
  const noStratum = async (log?: string) => {
    const files = { sheet: `${HEAD}A,Baetis,3\n`, reference: "vennaloo-demo" };
    const { said } = await checked(log === undefined ? files : { ...files, log });
    return said.filter((line) => line.includes("no-stratum"));
  };

  it("say which stratum is likely meant, or where it is to be written", async () => {
    const [near] = await noStratum("sample_id,stratum\nA,uplands\n");
    expect(near).toMatch(/^log\.csv:2:2 error no-stratum .*"uplands".*if upland is meant, write it so/);
    const [far] = await noStratum("sample_id,stratum\nA,pond\n");
    expect(far).toContain("write the one that fits");
    const [empty] = await noStratum("sample_id,stratum\nA,\n");
    expect(empty).toMatch(/^log\.csv:2:2 error no-stratum sample A has no stratum; /);
    const [none] = await noStratum();
    expect(none).toMatch(
      /^sheet\.csv:2:1 error no-stratum .*the stratum of a sample stands in the sample log/,
    );
  });

  it("are of the season, which may go over the turn of the year", async () => {
    const days = ["2024-12-03", "2024-02-10", "2024-06-03", "2024-06"];
    const log = `sample_id,collected_on\n${days.map((day, at) => `S${at},${day}\n`).join("")}`;
    const sheet = `${HEAD}${days.map((_, at) => `S${at},Baetis,3\n`).join("")}`;
    const outside = async (season: { from: string; to: string }) =>
      (await checked({ sheet, log, set: { season } })).said
        .filter((line) => line.includes("outside-season"))
        .map((line) => /sample (\S+) was/.exec(line)?.[1]);
    expect(await outside({ from: "11-01", to: "03-31" })).toEqual(["S2"]);
    expect(await outside({ from: "05-01", to: "09-30" })).toEqual(["S0", "S1"]);
  });

  it("are taken with the set's gear, or the mesh says otherwise", async () => {
    const log = "sample_id,mesh_um\nA,250\nB,500\nC,\n";
    const { said } = await checked({
      sheet: `${HEAD}A,Baetis,3\nB,Baetis,3\nC,Baetis,3\n`,
      log,
      set: { gear: "D-frame net, 500 µm" },
    });
    expect(said.filter((line) => line.includes("other-gear"))).toEqual([
      expect.stringMatching(/^log\.csv:2:2 warning other-gear .*A/),
    ]);
  });
});

describe("sheets compared with the log", () => {
  it("say which sample may be meant where an id stands on one of them only", async () => {
    const { said } = await checked({
      sheet: `${HEAD}VN-01,Baetis,3\nQ,Baetis,3\n`,
      log: "site_id,sample_id\nV1,VN-1\n",
    });
    const lines = said.filter((line) => line.includes("not-in-log"));
    expect(lines[0]).toMatch(/^sheet\.csv:2:1 warning not-in-log sample VN-01 .*VN-1/);
    expect(lines[1]).toMatch(/^sheet\.csv:3:1 warning not-in-log sample Q /);
    expect(lines[1]).not.toContain("VN-1");
    expect(said.filter((line) => line.includes("no-counts"))).toEqual([
      expect.stringMatching(/^log\.csv:2:2 \w+ no-counts sample VN-1 /),
    ]);
  });

  it("refuse a sample for its row of the log as well as for its rows of the sheet", async () => {
    const { rows } = await checked({
      sheet: `${HEAD}A,Baetis,x\nB,Baetis,3\n`,
      log: "sample_id,fraction_sorted\nA,2\nB,3\n",
    });
    expect(rows.map(({ readiness, why }) => [readiness, why])).toEqual([
      ["refused", "bad-count, bad-share"],
      ["refused", "bad-share"],
    ]);
  });
});
