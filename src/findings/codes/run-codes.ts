import { defineFinding } from "../define.ts";

/** Run folders: verifying and re-scoring. */
export const RUN_CODES = [
  defineFinding({
    code: "refused-sample",
    severity: "error",
    meaning: "A sample was not scored because of another finding about it.",
    hint: "correct the findings of this sample and score again",
    example: "sheet.csv:2:1 error refused-sample VN-03 is not scored: unknown-taxon",
  }),
] as const;
