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
] as const;
