import { defineFinding } from "../define.ts";

/** What `reference check` has to say beyond what reading a set finds. */
export const REFERENCE_CHECK_CODES = [
  defineFinding({
    code: "no-thresholds",
    severity: "warning",
    meaning:
      "A metric has thresholds in some strata and not in all, or none although the index is made of scores.",
    hint: "add the rows to thresholds.csv, or leave the metric or the stratum out of set.json",
    example: "my-set/set.json:41:7 warning no-thresholds ept_richness has no thresholds in lowland",
  }),
  defineFinding({
    code: "value-out-of-range",
    severity: "error",
    meaning: "A value of an attribute table lies beyond the ends of its scale.",
    hint: "correct the value, or the ends of the scale in schemes.csv",
    example:
      "reference-tables/attributes/tolerance/my-list.csv:12:2 error value-out-of-range Baetidae: 44; the scale goes from 0 to 10",
  }),
  defineFinding({
    code: "no-value-at-level",
    severity: "note",
    meaning: "A taxon of the level at which the set works has no value of an attribute that the set uses.",
    hint: "animals of it stay out of mean values, and in the whole of percentages; give it a value in the set's taxa.csv if you have one",
    example: "my-set/set.json:33:5 note no-value-at-level tolerance of Isonychiidae",
  }),
  defineFinding({
    code: "no-citation",
    severity: "warning",
    meaning: "A set or a table names a source that sources.csv does not cite.",
    hint: "add a row to sources.csv",
    example: 'my-set/set.json:6:15 warning no-citation "smith2001" is not in sources.csv',
  }),
  defineFinding({
    code: "bad-table",
    severity: "error",
    meaning:
      "A row of the reference tables contradicts another, or names a taxon that the tree does not have.",
    hint: "correct the row named",
    example: 'reference-tables/taxa/synonyms.csv:8:2 error bad-table "Betidae" is not in the tree of taxa',
  }),
] as const;
