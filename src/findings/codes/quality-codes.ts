import { defineFinding } from "../define.ts";

/** Quality control: sorting, identification, duplicates, choosing what is re-checked. */
export const QUALITY_CODES = [
  defineFinding({
    code: "not-computable",
    severity: "note",
    meaning:
      "A quality figure has no value for these data, for instance the sorting efficiency of a sample without animals.",
    hint: "nothing to do; it is neither a pass nor a failure",
    example:
      "sorting.csv:4:1 note not-computable sorting efficiency of VN-03: nothing was sorted and nothing recovered",
  }),
  defineFinding({
    code: "limit-missed",
    severity: "warning",
    meaning: "A quality figure is on the wrong side of its limit; the command ends with exit code 1.",
    hint: "look at the reasons and write down what was done",
    example:
      "sorting.csv:3:1 warning limit-missed sorting efficiency of VN-02 is 83.33 percent, 6.67 under the limit of 90",
  }),
  defineFinding({
    code: "at-open-limit",
    severity: "warning",
    meaning:
      "A figure is exactly at a limit of which the published rule does not say whether it passes; the command ends with exit code 1 until somebody decides.",
    hint: "decide by the laboratory's own protocol: --at-limit pass or --at-limit fail",
    example: "sorting.csv:3:1 warning at-open-limit VN-02: exactly 10 animals missed; fewer pass, more fail",
  }),
  defineFinding({
    code: "partly-checked",
    severity: "note",
    meaning:
      "Only a part of the residue was looked through, so the number missed is expanded by the share checked and the efficiency is an estimate.",
    hint: "report the share checked beside the figure; with few animals found the estimate is rough",
    example:
      "sorting.csv:5:1 note partly-checked VN-04: 3 animals found in 25 percent of the residue stand for 12",
  }),
  defineFinding({
    code: "checked-twice",
    severity: "note",
    meaning: "A sample has more than one row of a check; each counts as a check of its own.",
    hint: "nothing to do when it was checked again after a recount; delete the row when it is a slip",
    example: "sorting.csv:9:1 note checked-twice VN-02 was also checked on line 3",
  }),
  defineFinding({
    code: "no-counterpart",
    severity: "warning",
    meaning: "A sample is on only one of the two sheets that are compared, so it cannot be compared.",
    hint: "give both sheets of the sample, or correct the sample id; samples that nobody re-checked need no row",
    example: "recheck.csv:12:1 warning no-counterpart sample VN-09 is not on the first sheet",
  }),
  defineFinding({
    code: "no-duplicate",
    severity: "warning",
    meaning:
      "A duplicate or the sample it repeats has no value among the scores, so the pair cannot be compared.",
    hint: "score both samples together; a refused sample has no index",
    example: "log.csv:8:35 warning no-duplicate VN-05-D repeats VN-05, which is not among the scores",
  }),
  defineFinding({
    code: "repeated-score-row",
    severity: "error",
    meaning:
      "A table of scores has a sample, or a metric of a sample, twice, so it is not known which one holds.",
    hint: "keep one of the rows; scores of different runs or sets belong in tables of their own",
    example: "scores.csv:9:1 error repeated-score-row sample VN-05 stands in line 4 already",
  }),
  defineFinding({
    code: "circular-duplicates",
    severity: "warning",
    meaning:
      "Samples name each other, or themselves, as what they repeat, so that none of them is the primary one.",
    hint: "leave the column empty in the row of the primary sample",
    example: "log.csv:8:35 warning circular-duplicates VN-05 and VN-05-D repeat each other",
  }),
  defineFinding({
    code: "no-check-group",
    severity: "warning",
    meaning:
      "A sample of the log names no sorter, lot or taxonomist though samples are chosen by it; such samples form a group of their own.",
    hint: "fill in the column, or choose by another one",
    example:
      "log.csv:6:31 warning no-check-group VN-04 has no sorter; it is chosen among the samples without one",
  }),
  defineFinding({
    code: "share-exhausted",
    severity: "warning",
    meaning:
      "A group has fewer samples left than the share to be re-checked asks for; all that are left were chosen.",
    hint: "nothing more can be chosen from this group; every sample of it is checked then",
    example:
      "log.csv:0:0 warning share-exhausted lot L2: 2 samples asked for, 1 left that was not checked before",
  }),
] as const;
