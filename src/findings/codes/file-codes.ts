import { defineFinding } from "../define.ts";

/** Files as bytes: opening, decoding, the grammar of CSV and workbooks. */
export const FILE_CODES = [
  defineFinding({
    code: "bad-encoding",
    severity: "error",
    meaning: "A byte of the file cannot be read as text in its encoding.",
    hint: "save the file as UTF-8, or name its encoding with --encoding (often windows-1252)",
    example: "sheet.csv:4:2 error bad-encoding byte 0xE9 is not UTF-8",
  }),
] as const;
