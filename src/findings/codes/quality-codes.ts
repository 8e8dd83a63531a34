import { defineFinding } from "../define.ts";

/** Quality control: sorting, identification, duplicates. */
export const QUALITY_CODES = [
  defineFinding({
    code: "not-computable",
    severity: "note",
    meaning:
      "A quality figure has no value for these data, for instance the sorting efficiency of a sample without animals.",
    hint: "nothing to do; it is neither a pass nor a failure",
    example:
      "sorting.csv:4:2 note not-computable sorting efficiency of VN-03: nothing was sorted and nothing recovered",
  }),
] as const;
