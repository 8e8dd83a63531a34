import { defineFinding } from "../define.ts";

/** What the sample log and the other lists say: jars, labels, dates, preservative, places, names. */
export const LOG_CODES = [
  defineFinding({
    code: "not-in-log",
    severity: "warning",
    meaning: "A sample has counts but no row in the sample log.",
    hint: "add its row to the sample log, or correct the sample id on the bench sheet",
    example: "sheet.csv:2:1 warning not-in-log sample VN-07 has counts but no row in the sample log",
  }),
  defineFinding({
    code: "missing-key",
    severity: "error",
    meaning: "A row of a list does not say what it is about, so the whole list is refused.",
    hint: "fill the cell, or delete the row",
    example: "log.csv:9:1 error missing-key the row has no sample_id",
  }),
  defineFinding({
    code: "repeated-log-row",
    severity: "warning",
    meaning: "A sample stands twice in the sample log, with the same facts.",
    hint: "delete one of the rows",
    example: 'log.csv:9:1 warning repeated-log-row sample "VN-03" has the same row in line 4',
  }),
  defineFinding({
    code: "conflicting-log-rows",
    severity: "error",
    meaning: "A sample stands twice in the sample log, and the rows contradict each other.",
    hint: "decide which row is right and delete the other",
    example:
      'log.csv:9:4 error conflicting-log-rows sample "VN-03" has collected_on "2024-06-07" here and "2024-06-06" in line 4',
  }),
  defineFinding({
    code: "bad-date",
    severity: "error",
    meaning: "The date of collection is no day of the calendar in the form year-month-day.",
    hint: "write year-month-day, for instance 2024-07-06",
    example: 'log.csv:5:3 error bad-date collected_on "6/7/2024" cannot be used',
  }),
  defineFinding({
    code: "odd-date",
    severity: "warning",
    meaning: "A date that does not decide about scores is no day of the calendar in the form year-month-day.",
    hint: "write year-month-day, for instance 2024-07-06",
    example: 'log.csv:5:4 warning odd-date received_on "2024-02-30" cannot be used',
  }),
  defineFinding({
    code: "bad-number",
    severity: "error",
    meaning:
      "A number that decides about scores (area, grids, target, containers) cannot be read or is impossible.",
    hint: "write a plain number such as 12 or 0.75",
    example: 'log.csv:5:15 error bad-number area_sampled_m2 "0,72" cannot be used',
  }),
  defineFinding({
    code: "odd-number",
    severity: "warning",
    meaning: "A number that does not decide about scores cannot be read or is impossible.",
    hint: "write a plain number such as 12 or 0.75",
    example: 'log.csv:5:8 warning odd-number latitude "91.5" cannot be used',
  }),
  defineFinding({
    code: "bad-share",
    severity: "error",
    meaning: "The part of the sample that was sorted is no share above 0 up to 1.",
    hint: "write a share such as 0.25",
    example: 'log.csv:5:18 error bad-share fraction_sorted "25%" cannot be used',
  }),
  defineFinding({
    code: "odd-share",
    severity: "warning",
    meaning: "A share that does not decide about scores is not from 0 to 1.",
    hint: "write a share such as 0.8",
    example: 'log.csv:5:23 warning odd-share preservative_fraction "80" cannot be used',
  }),
  defineFinding({
    code: "bad-tray",
    severity: "error",
    meaning: "The shape of a tray is not written as rows x columns of grids.",
    hint: "write rows x columns, for instance 5x6",
    example: 'log.csv:5:16 error bad-tray tray "30 grids" cannot be used',
  }),
  defineFinding({
    code: "open-name",
    severity: "note",
    meaning: "A row of the lab's list of names has no accepted name, so it decides nothing.",
    hint: "write the accepted name when it is decided",
    example: 'names.csv:7:2 note open-name "Betis" has no accepted name yet',
  }),
  defineFinding({
    code: "repeated-name",
    severity: "note",
    meaning: "A name stands twice in the lab's list of names, with the same accepted name.",
    hint: "delete one of the rows",
    example: 'names.csv:9:1 note repeated-name "Betis" stands in line 7 already, with the same accepted name',
  }),
  defineFinding({
    code: "conflicting-names",
    severity: "error",
    meaning:
      "A name stands twice in the lab's list of names, with different accepted names; the list is refused.",
    hint: "decide for one of them and delete the other row",
    example: 'names.csv:9:2 error conflicting-names "Betis" is "Baetis" here and "Bezzia" in line 7',
  }),
  defineFinding({
    code: "missing-metric-name",
    severity: "error",
    meaning: "A row of a metric table does not say which metric its value is of.",
    hint: "write the name of the metric, as jartally metrics --list shows it",
    example: "metrics.csv:5:2 error missing-metric-name the row has no metric",
  }),
  defineFinding({
    code: "repeated-value",
    severity: "warning",
    meaning: "The same fact is given twice, the second time with the same value.",
    hint: "delete one of the rows",
    example:
      'metrics.csv:9:3 warning repeated-value taxa_richness of sample "VN-03" stands in metrics.csv:5 already, with the same value',
  }),
  defineFinding({
    code: "conflicting-values",
    severity: "error",
    meaning: "The same fact is given twice, with different values.",
    hint: "decide which one is right and delete the other row",
    example:
      'metrics.csv:9:3 error conflicting-values taxa_richness of sample "VN-03" stands in metrics.csv:5 already, with another value',
  }),
  defineFinding({
    code: "missing-reason",
    severity: "error",
    meaning: "A correction of a count has no reason, so it could not be defended.",
    hint: "write why the count was changed",
    example: "amendment.csv:3:5 error missing-reason the correction has no reason",
  }),
  defineFinding({
    code: "missing-condition",
    severity: "error",
    meaning: "A site or sample is listed without a condition.",
    hint: "write reference, stressed or another word of your own, or delete the row",
    example: 'sites.csv:4:2 error missing-condition "V7" has no condition',
  }),
] as const;
