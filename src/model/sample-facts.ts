/** Columns of a sample log that the program knows; any other column is kept as a covariate. */
export const LOG_COLUMNS = [
  "sample_id",
  "site_id",
  "collected_on",
  "received_on",
  "received_by",
  "project",
  "waterbody",
  "stratum",
  "latitude",
  "longitude",
  "datum",
  "gear",
  "mesh_um",
  "habitat",
  "replicate",
  "lab_number",
  "area_sampled_m2",
  "tray",
  "grids_sorted",
  "fraction_sorted",
  "target",
  "containers_expected",
  "containers_received",
  "outside_label",
  "inside_label",
  "preservative_fraction",
  "sample_water_ml",
  "ethanol_ml",
  "ethanol_percent",
  "preservative",
  "lot",
  "sorter",
  "sorted_on",
  "taxonomist",
  "trainee",
  "large_rare_searched",
  "duplicate_of",
  "replicate_of",
  "reference_sample_id",
  "crew",
  "note",
] as const;
export type LogColumn = (typeof LOG_COLUMNS)[number];

/** Texts by column, as a map has them. */
export interface FactTexts extends Iterable<readonly [column: string, text: string]> {
  get(column: string): string | undefined;
  has(column: string): boolean;
  keys(): Iterable<string>;
}

/** One row of the sample log: texts as written, without white space at their ends; absent when the cell is empty. */
export interface SampleFacts {
  readonly sampleId: string;
  readonly texts: FactTexts;
  readonly file: string;
  readonly line: number;
  /** 1-based field number of each column of the log, for findings that point at a cell. */
  readonly columns: ReadonlyMap<string, number>;
}

/** The text of a known column, or undefined when the log does not give it. */
export function fact(facts: SampleFacts | undefined, column: LogColumn): string | undefined {
  return facts?.texts.get(column);
}

/** A number of the log (a covariate, an area, a share); undefined when absent or not a plain decimal number. */
export function numericFact(facts: SampleFacts | undefined, column: string): number | undefined {
  const text = facts?.texts.get(column);
  if (text === undefined || !/^[+-]?\d+(\.\d+)?$/.test(text)) return undefined;
  return Number(text);
}

/** The share of the sample that was sorted, 0 to 1: as given, or from grids sorted and the tray's shape. */
export function fractionSorted(facts: SampleFacts | undefined): number | undefined {
  const given = numericFact(facts, "fraction_sorted");
  if (given !== undefined) return given > 0 && given <= 1 ? given : undefined;
  const grids = numericFact(facts, "grids_sorted");
  const tray = /^(\d+)\s*[x×]\s*(\d+)$/i.exec(fact(facts, "tray") ?? "");
  if (grids === undefined || tray === null) return undefined;
  const share = grids / (Number(tray[1]) * Number(tray[2]));
  return share > 0 && share <= 1 ? share : undefined;
}
