/** Columns of text that few sheets have, and the fact each holds. */
export const TEXT_FACTS = [
  ["grid", "grid"],
  ["container", "container"],
  ["tray_level", "trayLevel"],
  ["mount_fraction", "mountFraction"],
  ["condition", "condition"],
  ["reason", "reason"],
  ["identified_by", "identifiedBy"],
  ["identified_on", "identifiedOn"],
  ["slide_or_vial", "slideOrVial"],
  ["note", "note"],
] as const;
/** Columns of numbers that few sheets have, and the fact each holds. */
export const NUMBER_FACTS = [
  ["number_of_taxa", "numberOfTaxa"],
  ["certainty", "certainty"],
] as const;

/** Columns of rows.csv: those of a long bench sheet, and the place each row came from. */
export const STORED_ROW_COLUMNS = [
  "sample_id",
  "taxon",
  "count",
  "life_stage",
  "part",
  "distinct",
  "disposition",
  "count_basis",
  ...NUMBER_FACTS.map(([column]) => column),
  ...TEXT_FACTS.map(([column]) => column),
  "file",
  "line",
  "field",
] as const;

const FIRST_NUMBER = 8;
const FIRST_TEXT = FIRST_NUMBER + NUMBER_FACTS.length;
const FILE = FIRST_TEXT + TEXT_FACTS.length;

/** Where the columns stand; facts of numbers and of texts lie one behind the other. */
export const STORED_ROW_AT = {
  sample: 0,
  taxon: 1,
  count: 2,
  stage: 3,
  part: 4,
  distinct: 5,
  disposition: 6,
  basis: 7,
  firstNumber: FIRST_NUMBER,
  firstText: FIRST_TEXT,
  file: FILE,
  line: FILE + 1,
  field: FILE + 2,
} as const;
