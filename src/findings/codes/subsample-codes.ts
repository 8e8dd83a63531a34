import { defineFinding } from "../define.ts";

/** The draw to a fixed count, at the tray and on the computer. */
export const SUBSAMPLE_CODES = [
  defineFinding({
    code: "under-target",
    severity: "warning",
    meaning: "Fewer animals than the target were counted although only a part of the sample was sorted.",
    hint: "sort more grids, or read richness metrics of this sample with care",
    example:
      "sheet.csv:2:1 warning under-target sample VN-03 has 96 of 200 animals and 0.27 of it was sorted",
  }),
  defineFinding({
    code: "over-range",
    severity: "note",
    meaning:
      "More animals are kept than the range of the target allows, because the last grid was kept as a whole or its parts came to too many.",
    hint: "draw to the target by individual, or split the last grid",
    example: "sheet.csv:2:1 note over-range sample VN-03 keeps 262 animals; 160 to 240 were asked for",
  }),
  defineFinding({
    code: "empty-sample",
    severity: "note",
    meaning: "All of a sample was sorted and no animal that counts was found: a result, and no mistake.",
    hint: "make sure that the sheet is complete",
    example: "sheet.csv:2:1 note empty-sample all of VN-03 was sorted and it holds no animal that counts",
  }),
  defineFinding({
    code: "few-grids",
    severity: "note",
    meaning:
      "Picking stopped at a count after less than a quarter of the tray, so the estimated total and the density may be too high where animals sit in clumps. No other metric rests on them.",
    hint: "pick more grids where totals or densities matter",
    example: "picks.csv:2:1 note few-grids the estimated total of VN-03, 1590, rests on 4 of 30 grids",
  }),
  defineFinding({
    code: "no-tray",
    severity: "error",
    meaning: "The shape of a sample's tray is not known or cannot be read, so its grids cannot be numbered.",
    hint: "write the tray as rows x columns, for instance 5x6, in the sample log or with --tray",
    example: 'log.csv:4:8 error no-tray "30" is no shape of a tray',
  }),
  defineFinding({
    code: "no-grid",
    severity: "error",
    meaning: "A row does not say in which grid its animals lay, so its sample cannot be drawn by grid.",
    hint: "fill in the grid column, or draw by individual",
    example: "sheet.csv:17:5 error no-grid a row of VN-03 has no grid",
  }),
  defineFinding({
    code: "assumed-grids",
    severity: "warning",
    meaning:
      "The sample log does not say how many grids were sorted, so those that the sheet names are taken for all of them; sorted grids without an animal are then missing from the draw and the estimated total is too high.",
    hint: "fill in grids_sorted in the sample log",
    example:
      "sheet.csv:2:1 warning assumed-grids the 6 grids that the sheet of VN-03 names are taken for all",
  }),
  defineFinding({
    code: "no-expected-richness",
    severity: "note",
    meaning:
      "A sample holds fewer animals than the number for which its expected richness was asked; it is not defined beyond what was counted.",
    hint: "ask for fewer animals with --target, or leave the sample out of the comparison",
    example: "sheet.csv:2:1 note no-expected-richness VN-03 has 96 animals, so nothing can be said of 200",
  }),
  defineFinding({
    code: "bad-grid",
    severity: "error",
    meaning:
      "A grid does not fit the tray: its number is beyond the last one, the same grid is written in two ways, or more grids are named than were sorted.",
    hint: "correct the grid on the bench sheet, or the tray and grids_sorted in the sample log",
    example: "sheet.csv:17:5 error bad-grid a tray of 5x6 has no grid 31",
  }),
  defineFinding({
    code: "bad-pick",
    severity: "error",
    meaning:
      "A row of the pick log cannot be right or can be read in two ways, so the state of its sample is open.",
    hint: "the message says what is wrong with the row",
    example: "picks.csv:9:3 error bad-pick grid 17 of level 1 of VN-03 is there twice",
  }),
  defineFinding({
    code: "out-of-order",
    severity: "warning",
    meaning:
      "A grid was picked although another one comes before it in the random order; grids picked by choice are no random part of the sample.",
    hint: "pick the grid that was left out, or note why it could not be picked",
    example:
      "picks.csv:9:3 warning out-of-order grid 12 of VN-03 was picked before grid 5, which comes first",
  }),
  defineFinding({
    code: "split-before-last",
    severity: "warning",
    meaning: "A grid was picked only in part and yet another grid was picked after it.",
    hint: "pick the rest of the split grid before going on to the next",
    example:
      "picks.csv:9:5 warning split-before-last grid 17 of VN-03 was split, and grid 12 picked after it",
  }),
] as const;
