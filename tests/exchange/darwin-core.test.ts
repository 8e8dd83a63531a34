import { describe, expect, it } from "vitest";
import { darwinCore } from "../../src/exchange/darwin-core.ts";
import { ARCHIVE_TABLES } from "../../src/exchange/darwin-core-terms.ts";
import { rowsOf } from "./rows.ts";
import { RUN, record, sample } from "./sample.ts";

/*
 * Terms of the standard, by class: https://dwc.tdwg.org/terms/ and, for the survey extension,
 * https://eco.tdwg.org/terms/; the extended measurement table of https://rs.gbif.org/extension/obis/. The lists of
 * the term files in https://github.com/tdwg/dwc (dist/); order, family and lineage terms from memory.
 */
const STANDARD = new Set(
  `eventID parentEventID eventType fieldNumber eventDate datasetName habitat samplingProtocol sampleSizeValue
  sampleSizeUnit samplingEffort locationID waterBody decimalLatitude decimalLongitude geodeticDatum
  coordinateUncertaintyInMeters dataGeneralizations informationWithheld eventRemarks occurrenceID basisOfRecord
  occurrenceStatus individualCount organismQuantity organismQuantityType lifeStage verbatimIdentification
  scientificName taxonRank kingdom phylum class order family genus identifiedBy dateIdentified
  identificationRemarks recordedBy disposition occurrenceRemarks measurementID parentMeasurementID measurementType
  measurementValue measurementUnit measurementMethod measurementDeterminedDate measurementRemarks`
    .split(/\s+/)
    .map((term) => `http://rs.tdwg.org/dwc/terms/${term}`),
);
const SURVEY = new Set(
  `targetTaxonomicScope isAbsenceReported isAbundanceReported isAbundanceCapReported abundanceCap
  isLeastSpecificTargetCategoryQuantityInclusive totalAreaSampledValue totalAreaSampledUnit protocolNames`
    .split(/\s+/)
    .map((term) => `http://rs.tdwg.org/eco/terms/${term}`),
);

const tablesOf = (...args: Parameters<typeof rowsOf> extends [unknown, ...infer Rest] ? Rest : never) =>
  rowsOf(darwinCore, ...args).tables;

describe("the archive", () => {
  it("uses terms of the standard only, each once a table", () => {
    for (const { terms } of ARCHIVE_TABLES) {
      const uris = terms.map(({ uri }) => uri);
      expect(uris.filter((uri) => !STANDARD.has(uri) && !SURVEY.has(uri))).toEqual([]);
      expect(new Set(uris).size).toBe(uris.length);
    }
  });

  it("is described column by column in meta.xml, events as the core", () => {
    const meta = darwinCore.documents(RUN).get("meta.xml") ?? "";
    expect(meta.match(/<core /g)).toHaveLength(1);
    expect(meta.match(/<extension /g)).toHaveLength(3);
    expect([...meta.matchAll(/<location>(.*)<\/location>/g)].map(([, file]) => file)).toEqual([
      "event.csv",
      "occurrence.csv",
      "extended-measurement-or-fact.csv",
      "humboldt.csv",
    ]);
    for (const { file, terms } of ARCHIVE_TABLES) {
      const element = meta.split(`<location>${file}</location>`)[1]?.split(/<\/(?:core|extension)>/)[0] ?? "";
      expect(
        [...element.matchAll(/<field index="(\d+)" term="(.*)"\/>/g)].map(([, at, uri]) => [at, uri]),
      ).toEqual(terms.map(({ uri }, at) => [String(at), uri]));
      expect(element).toContain(file === "event.csv" ? '<id index="0"/>' : '<coreid index="0"/>');
    }
  });
});

describe("events", () => {
  it("are a visit, once for all its samples, with the samples below it", () => {
    const events = tablesOf([sample(), sample({ sampleId: "V1-2023-D" })]).get("event.csv") ?? [];
    expect(
      events.map(({ eventID, parentEventID, eventType }) => [eventID, parentEventID, eventType]),
    ).toEqual([
      ["visit:V1:2023-05-16", "", "Visit"],
      ["sample:V1-2023", "visit:V1:2023-05-16", "Sample"],
      ["sample:V1-2023-D", "visit:V1:2023-05-16", "Sample"],
    ]);
    expect(events[1]).toMatchObject({
      sampleSizeValue: 0.72,
      sampleSizeUnit: "square metre",
      samplingProtocol: "D-frame net, mesh 500 micrometres",
      samplingEffort: "animals of 20 percent of the sample sorted and identified",
      decimalLatitude: -47.168,
      decimalLongitude: -124.273,
      geodeticDatum: "WGS84",
      coordinateUncertaintyInMeters: null,
      eventRemarks: "under the bridge",
    });
  });

  it("hide the place and the note where protected animals live, unless they are asked for", () => {
    const guarded = sample({ isProtectedSite: true });
    const { tables, notes } = rowsOf(darwinCore, [guarded]);
    for (const event of tables.get("event.csv") ?? [])
      expect(event).toMatchObject({
        decimalLatitude: -47.2,
        decimalLongitude: -124.3,
        coordinateUncertaintyInMeters: 7900,
        dataGeneralizations: expect.stringContaining("rounded to 0.1 degree"),
        eventRemarks: "",
      });
    expect(JSON.stringify([...tables.values()])).not.toMatch(/47\.168|124\.273|bridge/);
    expect(notes).toEqual([
      "sample with the place rounded to 0.1 degree, because protected animals were found at the site",
    ]);
    const exact = tablesOf([guarded], { ...RUN, exactPlaces: true }).get("event.csv") ?? [];
    expect(exact[1]).toMatchObject({ decimalLatitude: -47.168, dataGeneralizations: "" });
  });

  it("say of a refused sample why, and have no animals, figures or survey for it", () => {
    const refused = sample({ status: "refused", flags: ["unknown-taxon"], records: [], metrics: [] });
    const { tables, notes } = rowsOf(darwinCore, [refused]);
    expect([...tables].map(([file, rows]) => [file, rows.length])).toEqual([
      ["event.csv", 2],
      ["occurrence.csv", 0],
      ["extended-measurement-or-fact.csv", 0],
      ["humboldt.csv", 0],
    ]);
    expect(tables.get("event.csv")?.[1]?.eventRemarks).toBe("refused: unknown-taxon | under the bridge");
    expect(notes).toEqual(["sample refused or held back: an event without animals and figures"]);
  });
});

describe("occurrences", () => {
  const occurrence = (over: Parameters<typeof record>[0]) =>
    tablesOf([sample({ records: [record(over)] })]).get("occurrence.csv")?.[0];

  it("give the animals as identified, with the line of the taxon", () => {
    expect(occurrence({})).toMatchObject({
      occurrenceID: "sample:V1-2023:taxon:Baetis:nymph:grids:counts",
      basisOfRecord: "PreservedSpecimen",
      individualCount: 12,
      organismQuantity: 12,
      organismQuantityType: "individuals",
      lifeStage: "nymph",
      scientificName: "Baetis",
      family: "Baetidae",
      phylum: "",
      identifiedBy: "TRV",
    });
  });

  it("call animals put back observations, estimates no counts, remains no life stage", () => {
    expect(occurrence({ fate: "released", why: "put back alive" })).toMatchObject({
      basisOfRecord: "HumanObservation",
      disposition: "released alive",
    });
    expect(occurrence({ isExpanded: true })).toMatchObject({ individualCount: null, organismQuantity: 12 });
    expect(occurrence({ stage: "shell", fate: "excluded", why: "empty shell" })).toMatchObject({
      lifeStage: "",
      occurrenceRemarks: "not counted: empty shell",
    });
  });

  it("keep a name of the bench beside the taxon that holds it", () => {
    expect(occurrence({ written: ["Baetis sp. A"], operational: "Baetis sp. A" })).toMatchObject({
      verbatimIdentification: "Baetis sp. A",
      scientificName: "Baetis",
      identificationRemarks: "kept apart as Baetis sp. A",
    });
  });

  it("hold no line break, which would end a row for many readers", () => {
    expect(occurrence({ written: ["Bae\r\ntis\u2028x"] })?.verbatimIdentification).toBe("Bae tis x");
  });
});

describe("figures and survey", () => {
  it("put scores below their metrics and the rating below the index", () => {
    const figures = tablesOf([sample()]).get("extended-measurement-or-fact.csv") ?? [];
    expect(
      figures.map(({ measurementID, parentMeasurementID, measurementValue }) => [
        measurementID,
        parentMeasurementID,
        measurementValue,
      ]),
    ).toEqual([
      ["sample:V1-2023:counted", "", 330],
      ["sample:V1-2023:sorted", "", 0.2],
      ["sample:V1-2023:scored:vennaloo-demo", "", 200],
      ["sample:V1-2023:metric:vennaloo-demo:taxa_richness", "", 26],
      [
        "sample:V1-2023:score:vennaloo-demo:taxa_richness",
        "sample:V1-2023:metric:vennaloo-demo:taxa_richness",
        10,
      ],
      ["sample:V1-2023:index:vennaloo-demo", "", 87.5],
      ["sample:V1-2023:rating:vennaloo-demo", "sample:V1-2023:index:vennaloo-demo", "excellent"],
    ]);
    expect(figures[2]?.measurementRemarks).toBe("random fixed count of 200, seed 1");
    expect(figures[5]?.measurementMethod).toContain("vennaloo-demo 1.0.0");
  });

  it("say why a figure is missing", () => {
    const missing = {
      id: "m",
      name: "M",
      unit: "taxa",
      value: undefined,
      whyMissing: "no area",
      score: undefined,
    };
    const figures = tablesOf([sample({ metrics: [missing] })]).get("extended-measurement-or-fact.csv") ?? [];
    expect(figures[3]).toMatchObject({ measurementValue: null, measurementRemarks: "no area" });
  });

  it("give the target of the sorting as cap, and quantities that do not hold those of finer taxa", () => {
    // Quantities of a genus beside its species are their own: http://rs.tdwg.org/dwc/doc/inclusive/2024-02-28
    expect(tablesOf([sample()]).get("humboldt.csv")).toEqual([
      {
        eventID: "sample:V1-2023",
        targetTaxonomicScope: "aquatic macroinvertebrates",
        isAbsenceReported: "false",
        isAbundanceReported: "true",
        isAbundanceCapReported: "true",
        abundanceCap: 300,
        isLeastSpecificTargetCategoryQuantityInclusive: "false",
        totalAreaSampledValue: 0.72,
        totalAreaSampledUnit: "square metre",
        protocolNames: "D-frame net, mesh 500 micrometres",
      },
    ]);
  });
});
