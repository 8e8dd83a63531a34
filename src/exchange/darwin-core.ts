import type { OutputRow } from "../files/formats/define.ts";
import { archiveDescription } from "./archive-description.ts";
import { measurementRows } from "./darwin-core-measurements.ts";
import { ARCHIVE_TABLES } from "./darwin-core-terms.ts";
import type { ExchangeWriter } from "./define.ts";
import { defineExchange } from "./define.ts";
import type { ExchangeRecord, ExchangeRun, ExchangeSample } from "./exchange-sample.ts";
import { joined, oneLine } from "./one-line.ts";
import { BLURRED_TEXT, BLURRED_UNCERTAINTY_M, publicPlace } from "./public-place.ts";
import { recordIdOf, sampleIdOf, visitIdOf } from "./stable-ids.ts";

/**
 * A Darwin Core archive: visits and samples as events, with animals, figures and the Humboldt extension's account
 * of the survey. Terms are those of Darwin Core (http://rs.tdwg.org/dwc/terms/), the Humboldt extension
 * (http://rs.tdwg.org/eco/terms/) and the extended measurement table (http://rs.iobis.org/obis/terms/).
 */
export const darwinCore = defineExchange({
  id: "darwin-core",
  tables: ARCHIVE_TABLES.map(({ file, terms }) => ({
    file,
    columns: terms.map(({ name, kind }) => ({ name, kind })),
  })),
  documents: () => new Map([["meta.xml", archiveDescription([...ARCHIVE_TABLES])]]),
  archive: "darwin-core-archive.zip",
  create: (run, notes): ExchangeWriter => {
    const visits = new Set<string>();
    return {
      rows(sample) {
        if (visitIdOf(sample) === undefined)
          notes.add("sample", "without site or day, so no visit stands above it");
        if (sample.isProtectedSite && publicPlace(sample, run.exactPlaces)?.isBlurred === true)
          notes.add(
            "sample",
            "with the place rounded to 0.1 degree, because protected animals were found at the site",
          );
        if (sample.status === "refused" || sample.status === "held-back")
          notes.add("sample", "refused or held back: an event without animals and figures");
        const survey = isExported(sample) ? [surveyRow(sample)] : [];
        return [
          [...newVisit(sample, run, visits), sampleEvent(sample, run)],
          sample.records.map((record) => occurrenceRow(sample, record)),
          measurementRows(sample, run),
          survey,
        ];
      },
    };
  },
});

function isExported({ status }: ExchangeSample): boolean {
  return status === "scored" || status === "flagged";
}

function newVisit(sample: ExchangeSample, run: ExchangeRun, visits: Set<string>): OutputRow[] {
  const id = visitIdOf(sample);
  if (id === undefined || visits.has(id)) return [];
  visits.add(id);
  return [
    [
      id,
      "",
      "Visit",
      "",
      sample.collectedOn,
      project(sample),
      "",
      "",
      null,
      "",
      "",
      ...placeCells(sample, run),
      "",
    ],
  ];
}

function sampleEvent(sample: ExchangeSample, run: ExchangeRun): OutputRow {
  const { facts } = sample;
  const fact = (column: string) => oneLine(facts.get(column) ?? "");
  const area = plainNumber(facts.get("area_sampled_m2"));
  const isHidden = publicPlace(sample, run.exactPlaces)?.isBlurred === true;
  return [
    sampleIdOf(sample),
    visitIdOf(sample) ?? "",
    "Sample",
    fact("lab_number"),
    sample.collectedOn,
    project(sample),
    fact("habitat"),
    protocolOf(sample),
    area,
    area === null ? "" : "square metre",
    sample.fractionSorted === undefined
      ? ""
      : `animals of ${percent(sample.fractionSorted)} of the sample sorted and identified`,
    ...placeCells(sample, run),
    joined([
      isExported(sample) ? "" : `${sample.status}: ${sample.flags.join(", ") || "not all jars are in"}`,
      fact("duplicate_of") === "" ? "" : `field duplicate of ${fact("duplicate_of")}`,
      fact("replicate_of") === "" ? "" : `replicate of ${fact("replicate_of")}`,
      // A note may say where the animals live.
      isHidden ? "" : fact("note"),
    ]),
  ];
}

/** Cells from locationID to informationWithheld. */
function placeCells(sample: ExchangeSample, run: ExchangeRun): OutputRow {
  const { facts } = sample;
  const place = publicPlace(sample, run.exactPlaces);
  return [
    oneLine(sample.siteId),
    oneLine(facts.get("waterbody") ?? ""),
    place?.latitude ?? null,
    place?.longitude ?? null,
    place === undefined ? "" : oneLine(facts.get("datum") ?? ""),
    place?.isBlurred === true ? BLURRED_UNCERTAINTY_M : null,
    place?.isBlurred === true ? BLURRED_TEXT : "",
    place?.isBlurred === true ? "exact coordinates and notes on the sample; ask the lab" : "",
  ];
}

const ANIMALS = "individuals";

function occurrenceRow(sample: ExchangeSample, record: ExchangeRecord): OutputRow {
  const isReleased = record.fate === "released";
  const living = !REMAINS.has(record.stage);
  return [
    sampleIdOf(sample),
    recordIdOf(sample, record),
    isReleased ? "HumanObservation" : "PreservedSpecimen",
    "present",
    record.isExpanded ? null : record.count,
    record.count,
    record.isExpanded ? `${ANIMALS}, expanded from a part of the sample` : ANIMALS,
    living && record.stage !== "unknown" ? record.stage : "",
    joined(record.written),
    record.taxon,
    record.rank,
    ...["kingdom", "phylum", "class", "order", "family", "genus"].map(
      (rank) => record.lineage.get(rank) ?? "",
    ),
    joined(record.identifiedBy),
    [...new Set(record.identifiedOn)].sort().at(-1) ?? "",
    joined([record.operational === "" ? "" : `kept apart as ${record.operational}`, ...record.doubts]),
    oneLine(sample.facts.get("crew") ?? ""),
    isReleased ? "released alive" : "",
    joined([
      record.largeRare ? "found in the search for large and rare animals, beside the grids" : "",
      record.fate === "excluded" ? `not counted: ${record.why}` : record.why,
    ]),
  ];
}

/** What is left of an animal is no stage of its life. */
const REMAINS: ReadonlySet<string> = new Set(["exuviae", "shell", "case"]);

function surveyRow(sample: ExchangeSample): OutputRow {
  const cap = plainNumber(sample.facts.get("target"));
  const area = plainNumber(sample.facts.get("area_sampled_m2"));
  return [
    sampleIdOf(sample),
    "aquatic macroinvertebrates",
    "false",
    "true",
    // Whole grids are sorted until the target is reached, so a count may lie above it.
    cap === null ? "" : "true",
    cap,
    // The bench records a genus beside its species: quantities of a taxon do not hold those of its parts.
    "false",
    area,
    area === null ? "" : "square metre",
    protocolOf(sample),
  ];
}

function project(sample: ExchangeSample): string {
  return oneLine(sample.facts.get("project") ?? "");
}

function protocolOf({ facts }: ExchangeSample): string {
  const mesh = oneLine(facts.get("mesh_um") ?? "");
  return [oneLine(facts.get("gear") ?? ""), mesh === "" ? "" : `mesh ${mesh} micrometres`]
    .filter((part) => part !== "")
    .join(", ");
}

function plainNumber(text: string | undefined): number | null {
  return text !== undefined && /^\d+(\.\d+)?$/.test(text) ? Number(text) : null;
}

function percent(share: number): string {
  return `${Number((share * 100).toFixed(2))} percent`;
}
