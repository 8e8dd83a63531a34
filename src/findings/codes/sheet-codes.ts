import { defineFinding } from "../define.ts";

/** What bench sheets say: headers, counts, stages, rows. */
export const SHEET_CODES = [
  defineFinding({
    code: "missing-column",
    severity: "error",
    meaning: "A column that this kind of table needs is not in its header row.",
    hint: "the header must be the first row that is not blank; cells are parted by comma, semicolon or tab",
    example:
      'sheet.csv:1:0 error missing-column there is no column "count"; the columns are sample_id, taxon, n',
  }),
  defineFinding({
    code: "wrong-table",
    severity: "error",
    meaning:
      "The columns are those of another kind of table than the one wanted: a log in the place of a sheet.",
    hint: "give each file in its place; jartally help COMMAND names them",
    example:
      "sample-log.csv:1:0 error wrong-table this looks like a sample log (site_id, collected_on, stratum), and a bench sheet is wanted here",
  }),
  defineFinding({
    code: "left-out-file",
    severity: "note",
    meaning: "A folder was given for bench sheets, and a file in it is a table of another kind.",
    hint: "nothing to do if the folder is meant",
    example:
      "season/sample-log.csv:1:0 note left-out-file this looks like a sample log and was left out of the sheets",
  }),
  defineFinding({
    code: "duplicate-header",
    severity: "error",
    meaning:
      "Two columns have the same name, so it is not known which one holds the data. A warning where the column is not used.",
    hint: "rename or delete one of them",
    example: 'sheet.csv:1:4 error duplicate-header fields 2 and 4 are both called "count"',
  }),
  defineFinding({
    code: "padded-header",
    severity: "note",
    meaning: "Names in the header row have white space at their ends; it is ignored.",
    hint: "nothing to do",
    example: 'sheet.csv:1:3 note padded-header the header " count " has white space at its ends',
  }),
  defineFinding({
    code: "nameless-column",
    severity: "warning",
    meaning:
      "A column has values and no name in the header row. It is left out of a long sheet; a cross-tab sheet is refused, because the column may be a sample.",
    hint: "give the column a name, or delete it",
    example: "sheet.csv:1:5 warning nameless-column field 5 has no name in the header and a value in line 7",
  }),
  defineFinding({
    code: "unused-column",
    severity: "warning",
    meaning:
      "A column has a name that is not read, but looks like one that is: what stands in it would change the result.",
    hint: "give the column the name of the one that is meant, or a name that is not close to it",
    example: 'sheet.csv:1:4 warning unused-column the column "Jar" is not used; did you mean container?',
  }),
  defineFinding({
    code: "left-out-column",
    severity: "note",
    meaning:
      "A column of a cross-tab sheet has a name that no sample has, such as order or total, and was left out.",
    hint: "nothing to do; rename the column if it is a sample",
    example: 'sheet.csv:1:2 note left-out-column the column "Order" is no sample and was left out',
  }),
  defineFinding({
    code: "not-a-sample",
    severity: "error",
    meaning:
      "A column of a cross-tab sheet would be a sample by its place, but none of its cells is a count.",
    hint: "delete the column, or give it a name that is known to be no sample, such as note",
    example:
      'sheet.csv:1:6 error not-a-sample no cell of the column "Voucher" is a count; the first is "yes" in line 2',
  }),
  defineFinding({
    code: "ragged-row",
    severity: "error",
    meaning:
      "A row has more or fewer cells than the header, so its cells may stand in the wrong columns. Its sample is refused when its id is in the first column, else the whole run.",
    hint: "write every delimiter, and put a cell with a delimiter in it into quotes",
    example: "sheet.csv:18:0 error ragged-row the row has 5 cells, the header 4",
  }),
  defineFinding({
    code: "missing-sample-id",
    severity: "error",
    meaning: "A row has no sample id; it could belong to any sample, so the whole run is refused.",
    hint: "write the sample id into every row",
    example: "sheet.csv:9:1 error missing-sample-id the row has no sample id",
  }),
  defineFinding({
    code: "missing-taxon",
    severity: "error",
    meaning: "A row has a count and no taxon.",
    hint: "write the name of the taxon",
    example: "sheet.csv:9:2 error missing-taxon the row has no taxon",
  }),
  defineFinding({
    code: "bad-count",
    severity: "error",
    meaning:
      "A count is not a whole number of animals in plain digits: decimals, thousands marks, dates, exponents, units, signs, estimates and leading zeros are refused, because each may mean another number than it seems.",
    hint: "write the number of animals in plain digits, for instance 12",
    example: 'sheet.csv:17:3 error bad-count count "12,5" is not a whole number (it has a decimal comma)',
  }),
  defineFinding({
    code: "blank-count",
    severity: "error",
    meaning:
      "A row of a long bench sheet has no count. In a cross-tab sheet a blank cell means that the taxon is absent.",
    hint: "write the number of animals, 0 for none, or delete the row",
    example: "sheet.csv:17:3 error blank-count the count is blank",
  }),
  defineFinding({
    code: "missing-count",
    severity: "error",
    meaning: "A mark for a missing value, such as NA or a dash, stands where a count belongs.",
    hint: "write the number of animals, 0 for none, or leave the row out",
    example: 'sheet.csv:17:3 error missing-count count "NA" stands for a missing value',
  }),
  defineFinding({
    code: "negative-count",
    severity: "error",
    meaning: "A count has a minus sign.",
    hint: "write the number of animals in plain digits; corrections belong in an amendment file",
    example: 'sheet.csv:17:3 error negative-count count "-3" has a minus sign',
  }),
  defineFinding({
    code: "large-count",
    severity: "error",
    meaning: "A count is larger than a thousand million, which no row of a bench sheet can be.",
    hint: "check the number; a code or a date may stand in the wrong column",
    example: 'sheet.csv:17:3 error large-count count "20240607001" is more than 1000000000',
  }),
  defineFinding({
    code: "unknown-life-stage",
    severity: "error",
    meaning:
      "A life stage is none of the known ones or their usual abbreviations, so it is not known whether the animals count.",
    hint: "write egg, larva, nymph, pupa, adult, exuviae, shell, case or unknown",
    example: 'sheet.csv:17:4 error unknown-life-stage life stage "Q" is not known',
  }),
  defineFinding({
    code: "bad-value",
    severity: "error",
    meaning:
      "A cell that decides how animals count (part, distinct, disposition, count_basis and others) cannot be read.",
    hint: "write one of the values of this column",
    example: 'sheet.csv:17:6 error bad-value part "rare" cannot be used (it is main or large-rare, or empty)',
  }),
  defineFinding({
    code: "odd-value",
    severity: "warning",
    meaning:
      "A cell that does not change the result, such as a date of identification, cannot be read as what it should be.",
    hint: "correct it, so that the record is complete",
    example: 'sheet.csv:17:9 warning odd-value identified_on "7/6/24" is no date',
  }),
  defineFinding({
    code: "doubtful-identification",
    severity: "note",
    meaning: "The taxonomist gave a certainty of 3 to 5 (1 is most certain) and no reason.",
    hint: "write the reason (damaged, early instar, key does not cover it), so that a reviewer can judge it",
    example: "sheet.csv:17:3 note doubtful-identification certainty 4 is given without a reason",
  }),
  defineFinding({
    code: "control-character",
    severity: "error",
    meaning:
      "A cell that is used holds a control character, which no keyboard writes: the file is damaged or was changed.",
    hint: "export the file again, or type the cell anew",
    example: 'sheet.csv:17:2 error control-character "Bae\\x00tis" holds the control character \\x00',
  }),
  defineFinding({
    code: "invisible-character",
    severity: "warning",
    meaning:
      "A cell holds characters that cannot be seen, such as zero-width blanks copied from a web page; they are dropped.",
    hint: "type the cell anew",
    example:
      'sheet.csv:17:2 warning invisible-character "Bae\\u200btis" holds characters that cannot be seen',
  }),
  defineFinding({
    code: "repeated-sheet",
    severity: "error",
    meaning:
      "The rows of a sample came in twice from two files: the same sheet given twice, or once as CSV and once as a workbook. Their sum would double every count.",
    hint: "give each sheet once; if two jars are really alike, say so in the container column",
    example:
      "copy.xlsx#Bench:2:3 error repeated-sheet the 31 rows of this sample are the same as in sheet.csv from line 2",
  }),
  defineFinding({
    code: "repeated-taxon",
    severity: "note",
    meaning:
      "A name stands twice in a sample with the same life stage, and nothing such as a jar or a grid tells the rows apart; the counts are summed.",
    hint: "check that it is no slip; fill in container or grid if the rows are from different ones",
    example: 'sheet.csv:9:2 note repeated-taxon "Baetis" stands in line 4 already; the counts are summed',
  }),
  defineFinding({
    code: "left-out-row",
    severity: "note",
    meaning:
      "A row of a bench sheet is called total, number of taxa, richness or the like: it sums up other rows and was left out; totals are held against the counts.",
    hint: "nothing to do",
    example: 'sheet.csv:40:1 note left-out-row the row "Total" sums up others and was left out',
  }),
  defineFinding({
    code: "wrong-total",
    severity: "warning",
    meaning:
      "The total that stands on a bench sheet is not the sum of the counts of the sample above it: one of them was changed or mistyped.",
    hint: "compare the column with the bench sheet on paper",
    example: "sheet.csv:40:3 warning wrong-total the total is 120, the counts above it add up to 118",
  }),
  defineFinding({
    code: "possible-subtotal",
    severity: "warning",
    meaning:
      "A family, order or other coarse name of a sample has exactly as many animals as all rows of finer names within it (two rows and ten animals at least): it may be a row of subtotals, which counted would double the sample.",
    hint: "delete the rows if they sum up others; nothing to do if they are other animals",
    example:
      "sheet.csv:7:2 warning possible-subtotal Ephemeroptera 43: as many animals as the rows of finer names within; if these rows are subtotals, animals of VN-03 count twice",
  }),
  defineFinding({
    code: "look-alike-samples",
    severity: "warning",
    meaning:
      "Two sample ids differ only in case, blanks, hyphens, underscores or dots; they may be one sample, whose rows are then scored as two.",
    hint: "write the id the same way everywhere, or make the ids differ more",
    example: 'sheet.csv:31:0 warning look-alike-samples the sample ids "vn 03" and "VN-03" may be one sample',
  }),
] as const;
