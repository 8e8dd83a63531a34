import { defineFinding } from "../define.ts";

/** What the sample log says: jars, labels, dates, preservative, places. */
export const LOG_CODES = [
  defineFinding({
    code: "not-in-log",
    severity: "warning",
    meaning: "A sample has counts but no row in the sample log.",
    hint: "add its row to the sample log, or correct the sample id on the bench sheet",
    example: "sheet.csv:2:1 warning not-in-log sample VN-07 has counts but no row in the sample log",
  }),
] as const;
