import type { OutputColumn } from "../files/formats/define.ts";

const DWC = "http://rs.tdwg.org/dwc/terms/";
const ECO = "http://rs.tdwg.org/eco/terms/";
const OBIS = "http://rs.iobis.org/obis/terms/";

/** A table of the archive: its rows' type and its terms. The first column joins it with the events. */
export interface ArchiveTable {
  readonly file: string;
  readonly rowType: string;
  readonly terms: readonly ArchiveTerm[];
}

export interface ArchiveTerm {
  readonly name: string;
  readonly uri: string;
  readonly kind: OutputColumn["kind"];
}

const text = (name: string): ArchiveTerm => ({ name, uri: DWC + name, kind: "text" });
const number = (name: string): ArchiveTerm => ({ name, uri: DWC + name, kind: "number" });
const eco = (name: string, kind: OutputColumn["kind"] = "text"): ArchiveTerm => ({
  name,
  uri: ECO + name,
  kind,
});

/** Visits and samples. */
export const EVENT_TABLE: ArchiveTable = {
  file: "event.csv",
  rowType: `${DWC}Event`,
  terms: [
    text("eventID"),
    text("parentEventID"),
    text("eventType"),
    text("fieldNumber"),
    text("eventDate"),
    text("datasetName"),
    text("habitat"),
    text("samplingProtocol"),
    number("sampleSizeValue"),
    text("sampleSizeUnit"),
    text("samplingEffort"),
    text("locationID"),
    text("waterBody"),
    number("decimalLatitude"),
    number("decimalLongitude"),
    text("geodeticDatum"),
    number("coordinateUncertaintyInMeters"),
    text("dataGeneralizations"),
    text("informationWithheld"),
    text("eventRemarks"),
  ],
};

/** Animals: one row a name, stage and part of the work. */
export const OCCURRENCE_TABLE: ArchiveTable = {
  file: "occurrence.csv",
  rowType: `${DWC}Occurrence`,
  terms: [
    text("eventID"),
    text("occurrenceID"),
    text("basisOfRecord"),
    text("occurrenceStatus"),
    number("individualCount"),
    number("organismQuantity"),
    text("organismQuantityType"),
    text("lifeStage"),
    text("verbatimIdentification"),
    text("scientificName"),
    text("taxonRank"),
    text("kingdom"),
    text("phylum"),
    text("class"),
    text("order"),
    text("family"),
    text("genus"),
    text("identifiedBy"),
    text("dateIdentified"),
    text("identificationRemarks"),
    text("recordedBy"),
    text("disposition"),
    text("occurrenceRemarks"),
  ],
};

/** Figures of samples: counts, metrics, their scores, index, rating. */
export const MEASUREMENT_TABLE: ArchiveTable = {
  file: "extended-measurement-or-fact.csv",
  rowType: `${OBIS}ExtendedMeasurementOrFact`,
  terms: [
    text("eventID"),
    text("measurementID"),
    text("parentMeasurementID"),
    text("measurementType"),
    // Numbers and words stand in one column; numbers must not be guarded like text.
    text("measurementValue"),
    text("measurementUnit"),
    text("measurementMethod"),
    text("measurementDeterminedDate"),
    text("measurementRemarks"),
  ],
};

/** How the survey was made, for those who ask what is absent and how much was looked at. */
export const SURVEY_TABLE: ArchiveTable = {
  file: "humboldt.csv",
  rowType: `${ECO}Event`,
  terms: [
    text("eventID"),
    eco("targetTaxonomicScope"),
    eco("isAbsenceReported"),
    eco("isAbundanceReported"),
    eco("isAbundanceCapReported"),
    eco("abundanceCap", "number"),
    eco("isLeastSpecificTargetCategoryQuantityInclusive"),
    eco("totalAreaSampledValue", "number"),
    eco("totalAreaSampledUnit"),
    eco("protocolNames"),
  ],
};

/** The core first, then its extensions. */
export const ARCHIVE_TABLES = [EVENT_TABLE, OCCURRENCE_TABLE, MEASUREMENT_TABLE, SURVEY_TABLE] as const;
