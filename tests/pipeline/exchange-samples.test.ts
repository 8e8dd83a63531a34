import { beforeAll, describe, expect, it } from "vitest";
import type { ExchangeRecord, ExchangeSample } from "../../src/exchange/exchange-sample.ts";
import { exchangeRun, exchangeSamples } from "../../src/pipeline/exchange-samples.ts";
import { storedRun } from "../helpers/stored-run.ts";

const SHEET = `sample_id,taxon,count,life_stage,part,disposition,identified_by,identified_on,grid,count_basis
S-1,Baetis,3,larva,,,A. Reader,2024-07-01,1,
S-1,baetis sp.,4,larva,,,B. Reader,2024-07-02,2,
S-1,Baetis,2,,,,,,3,
S-1,Gammarus,6,,,,,,1,expanded
S-1,Leuctra,1,,large-rare,,,,,
S-1,Glossosoma,4,case,,,,,,
S-1,Unionidae,2,,,released,,,,
S-1,Ephemerella/Drunella,5,L,,,,,,
S-1,Simulium,0,larva,,,,,,
S-2,Baetis,3,larva,,,,,,
S-2,Zzyzx,1,larva,,,,,,
S-3,Simulium,5,larva,,,,,,
S-4,Baetis,5,larva,,,,,,
S-5,Baetis,5,larva,,,,,,
`;
const LOG = `sample_id,site_id,collected_on,latitude,longitude,note
S-1,A,2024-06-01,-47.1,-124.2,first
S-2,B,2024-06-02,,,
S-3,A,2024-06-03,,,
S-4,D,2024-06-04,-47.1,-124.2,
`;

let run: Awaited<ReturnType<typeof storedRun>>;
let samples: readonly ExchangeSample[];
beforeAll(async () => {
  run = await storedRun({ sheet: SHEET, log: LOG });
  samples = [...exchangeSamples(run)];
});

function sampleOf(sampleId: string): ExchangeSample {
  const sample = samples.find((one) => one.sampleId === sampleId);
  if (sample === undefined) throw new Error(`no sample ${sampleId}`);
  return sample;
}

/** The records of S-1 under a name, as the sheet's rows were summed to them. */
const recordsOf = (key: string): ExchangeRecord[] => sampleOf("S-1").records.filter((one) => one.key === key);

describe("the records of a sample", () => {
  it("sum rows of one name and stage; another spelling or stage is a record of its own", () => {
    const seen = [...recordsOf("Baetis"), ...recordsOf("Baetis sp.")];
    expect(seen.map(({ stage, count, written }) => [stage, count, written])).toEqual([
      ["larva", 3, ["Baetis"]],
      ["unknown", 2, ["Baetis"]],
      ["larva", 4, ["baetis sp."]],
    ]);
    for (const one of seen)
      expect([one.taxon, one.rank, one.fate, one.why]).toEqual(["Baetis", "genus", "counts", ""]);
  });

  it("say who identified the animals and when, and what is doubtful about the name", () => {
    const [larvae, others] = recordsOf("Baetis");
    expect([larvae?.identifiedBy, larvae?.identifiedOn]).toEqual([["A. Reader"], ["2024-07-01"]]);
    expect([others?.identifiedBy, others?.identifiedOn]).toEqual([[], []]);
    expect(larvae?.doubts).toEqual([expect.stringMatching(/^"Baetis" is ambiguous /)]);
    expect(recordsOf("Gammarus")[0]?.doubts).toEqual([]);
  });

  it("keep animals that do not count, with the reason", () => {
    expect(
      [...recordsOf("Glossosoma"), ...recordsOf("Unionidae")].map(({ fate, why, count }) => [
        fate,
        why,
        count,
      ]),
    ).toEqual([
      ["excluded", "empty case: not an animal", 4],
      ["released", "put back alive: recorded, not counted", 2],
    ]);
  });

  it("mark expanded counts and the search for large and rare animals, and leave out rows without animals", () => {
    expect(recordsOf("Gammarus")).toMatchObject([{ isExpanded: true, largeRare: false, count: 6 }]);
    expect(recordsOf("Leuctra")).toMatchObject([{ isExpanded: false, largeRare: true, count: 1 }]);
    expect(recordsOf("Simulium")).toEqual([]);
  });

  it("give a slash group as the taxon that holds all of it, with the bench's own name beside", () => {
    const [group] = recordsOf("Ephemerella/drunella");
    expect(group).toMatchObject({
      taxon: "Ephemerellidae",
      rank: "family",
      operational: "Drunella/Ephemerella",
    });
    expect([...(group?.lineage ?? [])]).toEqual([
      ["kingdom", "Animalia"],
      ["phylum", "Arthropoda"],
      ["class", "Insecta"],
      ["order", "Ephemeroptera"],
      ["family", "Ephemerellidae"],
    ]);
    expect(recordsOf("Baetis")[0]?.lineage.get("genus")).toBe("Baetis");
  });
});

describe("a sample", () => {
  it("has its values, score and rating as numbers", () => {
    // 9 Baetis of 5 and 6 Gammarus of 4: 69 / 15 = 4.6, which scores 5.4; three taxa score 3.
    expect(sampleOf("S-1")).toMatchObject({ counted: 20, scored: 20, index: 8.4, rating: "fair" });
    expect(sampleOf("S-1").metrics).toEqual([
      {
        id: "tolerance_index",
        name: "Mean tolerance value",
        unit: "tolerance value",
        value: 4.6,
        whyMissing: "",
        score: 5.4,
      },
      { id: "taxa_richness", name: "Taxa richness", unit: "taxa", value: 3, whyMissing: "", score: 3 },
    ]);
  });

  it("that was refused has neither animals nor values", () => {
    expect(sampleOf("S-2")).toMatchObject({
      status: "refused",
      records: [],
      metrics: [],
      index: undefined,
      rating: "",
    });
  });

  it("says why a metric has no value", () => {
    expect(sampleOf("S-3").metrics[0]).toMatchObject({
      value: undefined,
      whyMissing: "no animal has a tolerance value",
      score: undefined,
    });
    expect(sampleOf("S-3").index).toBeUndefined();
  });

  it("has the columns of the log that were filled in, none without a row", () => {
    expect([...sampleOf("S-2").facts.keys()]).toEqual(["sample_id", "site_id", "collected_on"]);
    expect([...sampleOf("S-5").facts.keys()]).toEqual([]);
  });

  it("is at a protected site where a mussel was met: on other visits and at the same coordinates too", () => {
    // S-1 has the mussel; S-3 is of the same site, S-4 has the same coordinates.
    expect(samples.map((one) => [one.sampleId, one.isProtectedSite])).toEqual([
      ["S-1", true],
      ["S-2", false],
      ["S-3", true],
      ["S-4", true],
      ["S-5", false],
    ]);
  });
});

it("a mussel that nobody put back makes the site protected too", async () => {
  const kept = await storedRun({
    sheet: "sample_id,taxon,count\nS-1,Baetis,3\nS-1,Unionidae,1\nS-2,Baetis,3\nS-2,Unionidae,0\n",
  });
  expect([...exchangeSamples(kept)].map((one) => one.isProtectedSite)).toEqual([true, false]);
});

describe("a run", () => {
  it("says by which set and seed it was scored, and when only if it was stamped", async () => {
    expect(exchangeRun(run, false)).toEqual({
      set: {
        id: "small-set",
        version: "1.0.0",
        title: "Small set (made up for tests)",
        hash: run.set.hash,
        verification: "invented",
      },
      seed: "1",
      calculatedOn: "",
      exactPlaces: false,
    });
    const environment = { made_at: "2024-07-03T10:11:12Z" };
    const stamped = exchangeRun({ ...run, record: { ...run.record, environment } }, true);
    expect([stamped.calculatedOn, stamped.exactPlaces]).toEqual(["2024-07-03", true]);
  });

  it("that drew says how many animals it wanted", async () => {
    const drawn = await storedRun({ sheet: SHEET, log: LOG }, { target: 4 });
    const wanted = [...exchangeSamples(drawn)].map((one) => [
      one.sampleId,
      one.counted,
      one.scored,
      one.drawTarget,
    ]);
    expect(wanted).toContainEqual(["S-4", 5, 4, 4]);
    // Animals are exported as they were identified, before the draw.
    const [record] = [...exchangeSamples(drawn)].find((one) => one.sampleId === "S-4")?.records ?? [];
    expect(record?.count).toBe(5);
  });
});
