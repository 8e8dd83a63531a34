import { defineFinding } from "../define.ts";

/** What bench sheets say: headers, counts, stages, rows. */
export const SHEET_CODES = [
  defineFinding({
    code: "bad-count",
    severity: "error",
    meaning: "A count is not a whole number of animals.",
    hint: "write the number of animals in plain digits, for instance 12",
    example: 'sheet.csv:17:3 error bad-count count "12,5" is not a whole number',
  }),
] as const;
