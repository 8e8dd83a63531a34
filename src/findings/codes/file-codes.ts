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
  defineFinding({
    code: "empty-file",
    severity: "error",
    meaning: "The file has no row at all: no bytes, only a byte order mark, or only blank lines.",
    hint: "check that the file was saved; a table starts with a header row",
    example: "sheet.csv:0:0 error empty-file the file is empty",
  }),
  defineFinding({
    code: "no-rows",
    severity: "warning",
    meaning:
      "The file has a header row and nothing below it. A note for the lab's own lists of names and of taxa to watch for, which may be empty.",
    hint: "nothing to do if it is meant to be empty",
    example: "sheet.csv:1:0 warning no-rows there is a header and no row below it",
  }),
  defineFinding({
    code: "not-a-table",
    severity: "error",
    meaning:
      "The content of the file is something other than CSV, TSV or an .xlsx workbook, whatever its name says.",
    hint: "save it as CSV (UTF-8) or as an .xlsx workbook",
    example: "sheet.csv:0:0 error not-a-table this looks like a PDF document, not like a table",
  }),
  defineFinding({
    code: "bad-gzip",
    severity: "error",
    meaning: "A file packed with gzip is damaged, cut off, or unpacks to more than 1 GiB.",
    hint: "copy the file again, or unpack it first",
    example: "sheet.csv.gz:812:3 error bad-gzip the packed file is cut off",
  }),
  defineFinding({
    code: "broken-quoting",
    severity: "error",
    meaning:
      "The quotes of a CSV file do not match, so cells and rows cannot be told apart from there on. The line is the one where the quote opens.",
    hint: 'put a cell with a quote in it into quotes and write the quote twice: "5"" net"',
    example: "sheet.csv:12:9 error broken-quoting a quote opens here and is never closed",
  }),
  defineFinding({
    code: "stray-quote",
    severity: "warning",
    meaning:
      "A quote stands within a cell that does not start with one, such as the sign for inches; it is taken as it stands.",
    hint: 'check the cell; put it into quotes and write its quotes twice: "5"" net"',
    example:
      "sheet.csv:12:9 warning stray-quote a quote stands within a cell that does not start with one; taken as it stands",
  }),
  defineFinding({
    code: "too-long",
    severity: "error",
    meaning: "A row of the file is longer than 1 MiB, which no bench sheet has.",
    hint: "check that the file is a table with one row a line",
    example: "sheet.csv:1:1 error too-long a row is longer than 1 MiB",
  }),
  defineFinding({
    code: "blank-rows",
    severity: "warning",
    meaning: "Blank rows stand between others; they are skipped.",
    hint: "check that nothing was deleted by mistake",
    example: "sheet.csv:40:0 warning blank-rows 2 blank rows were skipped",
  }),
  defineFinding({
    code: "bad-workbook",
    severity: "error",
    meaning:
      "An .xlsx workbook cannot be read: it is damaged, locked with a password, too large, or has no such sheet.",
    hint: "open it, save it again as .xlsx without a password, or save the sheet as CSV",
    example:
      'batch.xlsx:0:0 error bad-workbook the workbook cannot be read: there is no sheet "June"; the sheets are Bench, Log',
  }),
  defineFinding({
    code: "error-cell",
    severity: "error",
    meaning: "A cell that is used holds the error of a formula instead of a value.",
    hint: "correct the formula, or write the value into the cell",
    example: 'batch.xlsx#Bench:7:3 error error-cell "#DIV/0!" is the error of a formula',
  }),
  defineFinding({
    code: "unsolved-formula",
    severity: "error",
    meaning:
      "Cells of a workbook hold formulas that were never worked out, so they would be read as blanks; the run is refused.",
    hint: "open the workbook in a spreadsheet program and save it",
    example:
      "batch.xlsx#Bench:7:3 error unsolved-formula 12 cells hold a formula without a value, the first is C7",
  }),
  defineFinding({
    code: "formula-cell",
    severity: "note",
    meaning: "Cells of a workbook hold formulas; the values that were last worked out are read.",
    hint: "open and save the workbook if the values may be old",
    example: "batch.xlsx#Bench:7:3 note formula-cell 12 cells hold a formula, the first is C7",
  }),
] as const;
