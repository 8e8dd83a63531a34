import { defineFinding } from "../define.ts";

/** Reference sets and reference tables. */
export const REFERENCE_CODES = [
  defineFinding({
    code: "bad-set",
    severity: "error",
    meaning: "A reference set cannot be used as it is written.",
    hint: "correct the place named; the columns and keys are described in the reference tables' README",
    example: "my-set/set.json:0:0 error bad-set metrics: must not be empty",
  }),
  defineFinding({
    code: "set-gap",
    severity: "warning",
    meaning:
      "Neighbouring segments of a scoring rule, or neighbouring classes, leave values between them that belong to none. The severity is note where the set says that the gap is the publication's own.",
    hint: "close the gap by including a limit; or, if it was published so, say as_published and a tie_rule (for classes: gaps between)",
    example:
      "my-set/thresholds.csv:21:4 warning set-gap percent_dominant: 75 belongs to no segment between line 20 and line 21",
  }),
  defineFinding({
    code: "set-overlap",
    severity: "warning",
    meaning: "Two segments of a scoring rule, or two classes, both hold a value; the lower one decides.",
    hint: "exclude the limit from one of them",
    example:
      "my-set/thresholds.csv:9:4 warning set-overlap ept_richness: 5 belongs to both line 8 and line 9",
  }),
] as const;
