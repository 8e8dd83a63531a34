import { defineFinding } from "../define.ts";

/** How firmly scores stand. */
export const INTERVAL_CODES = [
  defineFinding({
    code: "near-class-limit",
    severity: "warning",
    meaning:
      "Fewer resamples than asked for have the rating that the sample got, so another count of the same jar might well be rated otherwise.",
    hint: "do not rest a decision on the rating alone: look at the interval, count more animals, or sample again",
    example:
      "sheet.csv:2:1 warning near-class-limit the rating fair of VN-03 is that of 56.3 percent of its resamples (limit 80 percent); next most likely: good",
  }),
  defineFinding({
    code: "endless-jar",
    severity: "note",
    meaning:
      "It is not known how much of a sample was sorted, so its jar is taken as endless; the interval is then rather too wide than too narrow.",
    hint: "fill in fraction_sorted, or tray and grids_sorted, in the sample log",
    example:
      "sheet.csv:2:1 note endless-jar it is not known how much of VN-03 was sorted, so its jar is taken as endless",
  }),
  defineFinding({
    code: "clumping-not-covered",
    severity: "note",
    meaning:
      "The sheet does not name the grid of each animal, so single animals are resampled as if they lay evenly in the tray. Animals clump, and the interval may then be much too narrow.",
    hint: "write down the grid of each animal (column grid of the bench sheet); whole grids are then resampled",
    example:
      "sheet.csv:2:1 note clumping-not-covered the sheet of VN-03 does not name the grid of each animal (of two grids at least), so clumping in the tray is not in its interval",
  }),
  defineFinding({
    code: "no-interval",
    severity: "warning",
    meaning: "The certainty of a score cannot be worked out.",
    hint: "give the counts as counted, with the fraction sorted in the sample log",
    example:
      "sheet.csv:2:1 warning no-interval the certainty of VN-03 cannot be worked out: it has expanded counts",
  }),
  defineFinding({
    code: "index-outside-interval",
    severity: "note",
    meaning:
      "More animals were counted than the fixed count takes, and the index comes from one random draw of them. The mean over all such draws is known better than the one draw shows, and lies elsewhere.",
    hint: "report the index by the method with its interval; nothing is wrong, the draw was an unusual one",
    example:
      "sheet.csv:2:1 note index-outside-interval the index 52.1 of VN-03 comes from one draw and lies outside of 54.8 to 57.3, where the mean over all draws from its 640 animals lies",
  }),
  defineFinding({
    code: "field-variance",
    severity: "note",
    meaning:
      "What the intervals hold of the difference between places in the stream, and from which duplicates.",
    hint: "few duplicates give a rough figure; qc duplicates shows them one by one",
    example:
      "log.csv:0:0 note field-variance the field part of the intervals is from 20 samples of 10 sites: standard deviation of the index 3.42",
  }),
  defineFinding({
    code: "no-field-variance",
    severity: "warning",
    meaning:
      "The field was to be in the intervals, and the batch has no duplicates to take it from; the intervals are of subsampling alone.",
    hint: "score the field duplicates in the same batch and name them in duplicate_of of the sample log",
    example:
      "log.csv:0:0 warning no-field-variance no two samples that duplicate_of joins have an index, so the field is not in the intervals",
  }),
] as const;
