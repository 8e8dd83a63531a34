import { defineFinding } from "../define.ts";

/** What shows when jars come in: jars, labels, dates, preservative, places, links between samples. */
export const INTAKE_CODES = [
  defineFinding({
    code: "jars-extra",
    severity: "warning",
    meaning: "More jars of a sample came in than it should have; one may belong to another sample.",
    hint: "read the labels of all its jars, then correct the sample log",
    example: "log.csv:5:21 warning jars-extra sample VN-03 has 3 jars, 2 were expected",
  }),
  defineFinding({
    code: "jars-uncounted",
    severity: "warning",
    meaning:
      "The rows of a sample name fewer jars than it has, so a jar may not have been counted; the rest of a sample has no score.",
    hint: "add the rows of the other jars; a jar without animals needs a row with count 0",
    example: 'sheet.csv:2:1 warning jars-uncounted the rows of VN-03 name 1 of its 2 jars: "1 of 2"',
  }),
  defineFinding({
    code: "label-mismatch",
    severity: "warning",
    meaning:
      "The label outside the jar and the one inside differ, so it is not certain which sample the jar holds.",
    hint: "find out from the field sheet which one is right before the jar is sorted",
    example:
      'log.csv:5:24 warning label-mismatch the labels of VN-03 differ: "VN-03" outside, "VN-08" inside',
  }),
  defineFinding({
    code: "label-missing",
    severity: "warning",
    meaning: "A jar has a label outside or inside only; one label is easily lost or washed off.",
    hint: "put the missing label on or in the jar now, and say in the note that it was added",
    example: "log.csv:5:24 warning label-missing sample VN-03 has a label outside and none inside",
  }),
  defineFinding({
    code: "future-date",
    severity: "warning",
    meaning: "A date of the sample log lies after today.",
    hint: "correct the date; often it is the year, or day and month in the wrong order",
    example: "log.csv:5:3 warning future-date collected_on of VN-03 is 2042-06-07, after today (2024-06-20)",
  }),
  defineFinding({
    code: "dates-out-of-order",
    severity: "warning",
    meaning: "A sample would have come in before it was collected, or have been sorted before it came in.",
    hint: "correct the date that is wrong",
    example:
      "log.csv:5:4 warning dates-out-of-order VN-03: received_on 2024-06-05 is before collected_on 2024-06-07",
  }),
  defineFinding({
    code: "low-preservative",
    severity: "warning",
    meaning:
      "Preservative fills less than half of the jar (common practice, no source), so that animals may rot. Not asked of formalin.",
    hint: "see to this jar first: add ethanol or divide the sample between two jars; ethanol burns, so no flame, fresh air, and the safety data sheet at hand",
    example:
      "log.csv:5:27 warning low-preservative preservative fills 0.4 of the jar of VN-03, less than half",
  }),
  defineFinding({
    code: "weak-ethanol",
    severity: "warning",
    meaning:
      "The ethanol in the jar is weaker than 70 percent once the water of the sample is in it: strength times its volume, divided by all liquid. With 95 percent ethanol at least 0.737 of the liquid must be ethanol.",
    hint: "top up: pour off liquid through a net and fill up with 95 percent ethanol; ethanol burns, so no flame, fresh air, and the safety data sheet at hand",
    example: "log.csv:5:30 warning weak-ethanol the ethanol in VN-03 has come to 38 percent",
  }),
  defineFinding({
    code: "odd-area",
    severity: "warning",
    meaning:
      "The area sampled is smaller or larger than any net or frame samples (0.001 to 100 square metres; common practice, no source).",
    hint: "write square metres: 929 square centimetres are 0.0929",
    example: "log.csv:5:15 warning odd-area area_sampled_m2 of VN-03 is 929",
  }),
  defineFinding({
    code: "odd-place",
    severity: "warning",
    meaning:
      "The coordinates of a sample cannot be right: one of them is missing, both are 0, or they lie far from all others and would lie among them with the other sign or the two exchanged.",
    hint: "correct latitude and longitude; west and south are negative",
    example:
      "log.csv:5:9 warning odd-place longitude 124.3 of VN-03 lies far from the others; -124.3 would lie among them",
  }),
  defineFinding({
    code: "site-differs",
    severity: "warning",
    meaning:
      "Two samples of one site differ in what belongs to the site: its stratum, its waterbody, or its place by more than a kilometre.",
    hint: "correct the row that is wrong, or give the other place a site_id of its own",
    example:
      'log.csv:5:7 warning site-differs site V3 has the stratum "upland" for VN-03 and "valley" for VN-01 (line 3)',
  }),
  defineFinding({
    code: "unknown-sample",
    severity: "warning",
    meaning:
      "A row of the sample log points to a sample (duplicate_of, replicate_of, reference_sample_id) that is neither in the log nor on the sheets.",
    hint: "correct the sample id, or add the row of the sample it points to",
    example:
      'log.csv:8:35 warning unknown-sample duplicate_of of VN-05-D points to "VN-5", which is not there',
  }),
  defineFinding({
    code: "odd-duplicate",
    severity: "warning",
    meaning: "A duplicate and the sample it repeats are not of the same site and day.",
    hint: "correct duplicate_of, or the site and date of the one that is wrong",
    example: "log.csv:8:35 warning odd-duplicate VN-05-D repeats VN-05 but is of site V6, not V5",
  }),
  defineFinding({
    code: "unequal-fractions",
    severity: "error",
    meaning:
      "Rows of a sample stand for different shares of what was sorted (mount_fraction: of a jar, or of the animals mounted), so in their plain sum the animals of one would weigh more than those of another. The sample is refused.",
    hint: "divide each count by its share, write count_basis expanded and leave mount_fraction out, or count the jars to the same share",
    example:
      "sheet.csv:9:3 error unequal-fractions rows of VN-03 stand for 0.25 (line 2) and for 1 of what was sorted, so they cannot be summed as they are",
  }),
  defineFinding({
    code: "unknown-listed-taxon",
    severity: "error",
    meaning:
      "A taxon on the lab's list of taxa to watch for is not in the taxon tree, so it could never be found in a sample.",
    hint: "write the name as the tree has it, or list the taxon above it",
    example: 'alerts.csv:3:1 error unknown-listed-taxon "Dreisena" is no known taxon; close names: Dreissena',
  }),
  defineFinding({
    code: "grids-beyond-tray",
    severity: "warning",
    meaning:
      "The log says that more grids were sorted than the tray has, so the share sorted is not known from them.",
    hint: "correct grids_sorted or tray; of a second tray, give fraction_sorted",
    example: "log.csv:6:17 warning grids-beyond-tray grids_sorted of VN-04 is 36, its tray 5x6 has 30 grids",
  }),
  defineFinding({
    code: "sorted-share-differs",
    severity: "warning",
    meaning:
      "The share of the sample that the log says was sorted is not that of the grids sorted; fraction_sorted is used. A smaller share is in order where rows name a second tray.",
    hint: "correct the one that is wrong: estimates of the whole sample hang on it",
    example:
      "log.csv:6:18 warning sorted-share-differs fraction_sorted of VN-04 is 0.5, but 6 of 30 grids are 0.200",
  }),
  defineFinding({
    code: "bad-setting",
    severity: "error",
    meaning:
      "The settings file jartally.json of the working folder says something that no option takes. It is wrong usage: nothing is done, and the exit code is 2.",
    hint: "correct jartally.json, or leave it out this time with --no-settings",
    example: 'jartally.json:3:3 error bad-setting there is no option "refrence"; did you mean "reference"?',
  }),
] as const;
