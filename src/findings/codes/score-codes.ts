import { defineFinding } from "../define.ts";

/** Metrics, scores, index and rating. */
export const SCORE_CODES = [
  defineFinding({
    code: "no-stratum",
    severity: "error",
    meaning:
      "It is not known which thresholds apply to a sample: its stratum is missing or not one of the set's.",
    hint: "fill in the stratum column of the sample log, or give --stratum for all samples",
    example:
      'log.csv:5:8 error no-stratum sample VN-03 has the stratum "hills"; the set has lowland, upland, valley',
  }),
  defineFinding({
    code: "few-animals",
    severity: "warning",
    meaning: "Fewer animals than the set's least count, so the index is doubtful or not given.",
    hint: "read the index with care, or sort more of the sample",
    example: "sheet.csv:2:1 warning few-animals sample VN-03 has 64 animals; the set asks for at least 100",
  }),
  defineFinding({
    code: "without-value",
    severity: "warning",
    meaning:
      "Many animals have no value of an attribute that the set uses, so its metrics rest on the others.",
    hint: "see with explain which taxa they are; a coarser or finer identification may have a value",
    example:
      "sheet.csv:2:1 warning without-value 24.5 percent of the animals of VN-03 have no tolerance value (limit 10)",
  }),
  defineFinding({
    code: "value-share",
    severity: "note",
    meaning:
      "The attribute tables in use do not cover all taxa of the method, so it is said how many of a sample's animals had a value.",
    hint: "nothing to do; the lower the share, the less the score says",
    example: "sheet.csv:2:1 note value-share 93.4 percent of the animals of VN-03 have a tolerance value",
  }),
  defineFinding({
    code: "missing-metric",
    severity: "warning",
    meaning: "A metric cannot be computed for a sample.",
    hint: "the cell stays empty, and where the set asks for the metric the index does too; jartally explain with --sample and --metric shows what was looked at",
    example: "sheet.csv:2:1 warning missing-metric tolerance_index of VN-03: no animal has a tolerance value",
  }),
  defineFinding({
    code: "no-score",
    severity: "warning",
    meaning:
      "A metric value falls into no segment of the set's thresholds, or a covariate that moves them is missing.",
    hint: "look at the thresholds of this metric and stratum, and at the sample's row in the log",
    example: "sheet.csv:2:1 warning no-score percent_dominant 75 of VN-03 is in a gap of the thresholds",
  }),
  defineFinding({
    code: "tie-rule",
    severity: "note",
    meaning:
      "A metric value lies in a gap of the table as it was published, so its score is given by the set's stated tie rule, which is not the publication's.",
    hint: "the rule stands in the set (reference show); a rating that hangs on it should be read with care",
    example:
      "sheet.csv:2:1 note tie-rule percent_dominant 75 of VN-03 belongs to no class as published; it takes the score nearest to the middle of the scores: 3",
  }),
  defineFinding({
    code: "unused-metric",
    severity: "note",
    meaning: "A table of metric values has a metric that the set does not use.",
    hint: "nothing to do, unless it is the misspelt name of one that is missing (reference show lists the set's metrics)",
    example:
      'metrics.csv:0:0 note unused-metric the set my-set has no metric "ept_taxa"; did you mean "ept_richness"?',
  }),
  defineFinding({
    code: "impossible-metric",
    severity: "error",
    meaning: "A table of metric values gives a value that the metric cannot have.",
    hint: "look at the unit (percent or share of 1) and whether a column has moved",
    example: "metrics.csv:4:5 error impossible-metric percent_dominant_taxon of VN-03 goes from 0 to 100",
  }),
  defineFinding({
    code: "no-reference-sample",
    severity: "warning",
    meaning:
      "The set compares with a reference sample, and the sample names none, or the one it names cannot be used.",
    hint: "fill in reference_sample_id in the sample log, and score the reference sample in the same batch",
    example:
      "log.csv:5:9 warning no-reference-sample sample VN-03: its reference sample VN-90 is not among the samples",
  }),
  defineFinding({
    code: "replicate-fractions",
    severity: "error",
    meaning:
      "Replicates of which different shares were sorted cannot be pooled as they are: an animal of the one sorted less stands for more animals.",
    hint: "take the mean of the replicates (--replicates mean), or sort them alike",
    example:
      "log.csv:5:9 error replicate-fractions the replicates of VN-03 were sorted to different fractions (VN-03 0.25, VN-03-2 1), so they cannot be pooled",
  }),
  defineFinding({
    code: "no-class",
    severity: "warning",
    meaning: "An index lies in no rating class of the set, so the sample has no rating.",
    hint: "look at the rating classes of the set for a gap: jartally reference check names it",
    example: "sheet.csv:2:1 warning no-class index 65.8 of VN-03 lies in no class of the set",
  }),
  defineFinding({
    code: "no-animals",
    severity: "warning",
    meaning: "A sample has no animal that counts.",
    hint: "check that the sheet is complete; a truly empty sample has no index",
    example: "sheet.csv:2:1 warning no-animals sample VN-03 has no animal that counts",
  }),
  defineFinding({
    code: "jars-missing",
    severity: "warning",
    meaning: "Not all jars of a sample are in, so it is held back: a part of a sample has no score.",
    hint: "find the missing jars; when all are in, correct containers_received in the sample log",
    example: "log.csv:5:21 warning jars-missing sample VN-03 is held back: 1 of 2 jars are in",
  }),
  defineFinding({
    code: "no-counts",
    severity: "warning",
    meaning: "A sample is in the sample log and has no counts on any sheet given.",
    hint: "give its bench sheet too; a sample without animals needs a row with count 0",
    example: "log.csv:5:1 warning no-counts sample VN-03 is in the log and has no counts",
  }),
  defineFinding({
    code: "expanded-counts",
    severity: "warning",
    meaning: "A sample holds counts that were expanded from a part of it, so no animals of it can be drawn.",
    hint: "give the counts as counted, with the fraction sorted in the sample log",
    example:
      "sheet.csv:2:1 warning expanded-counts sample VN-03 holds expanded counts, so 200 animals cannot be drawn from its 840",
  }),
  defineFinding({
    code: "outside-season",
    severity: "warning",
    meaning: "The sample was collected outside the months for which the set was made.",
    hint: "the set's thresholds hold for its season only",
    example:
      "log.csv:5:3 warning outside-season VN-03 was collected on 2024-01-12; the set's season is 04-01 to 10-31",
  }),
  defineFinding({
    code: "other-gear",
    severity: "warning",
    meaning:
      "The sample was taken with gear of another kind (net, frame on the bed, grab, corer, artificial substrate, drift net) or with another mesh than the set was made for.",
    hint: "the set's thresholds hold for its gear only",
    example:
      'log.csv:5:11 warning other-gear VN-03 was taken with "Ponar grab"; the gear of demo is D-frame net, 500 µm',
  }),
] as const;
