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
] as const;
