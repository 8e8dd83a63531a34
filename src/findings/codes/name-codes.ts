import { defineFinding } from "../define.ts";

/** What names on the sheet turn out to be, and which animals count. */
export const NAME_CODES = [
  defineFinding({
    code: "unknown-taxon",
    severity: "error",
    meaning:
      "A name is neither in the taxon tree, nor among its synonyms, nor in the lab's own list of names.",
    hint: "correct the spelling, or decide it once in names.csv (sheet_name,accepted_name)",
    example: 'sheet.csv:9:2 error unknown-taxon "Betis" is no known taxon; close names: Baetis',
  }),
  defineFinding({
    code: "excluded-animals",
    severity: "note",
    meaning:
      "Animals or remains that do not count (vertebrates, terrestrial adults, empty shells and cases, zooplankton) were left out.",
    hint: "nothing to do; the set's count_policy says which animals count",
    example: "sheet.csv:12:2 note excluded-animals 3 Cottidae do not count: vertebrate",
  }),
  defineFinding({
    code: "released-animals",
    severity: "note",
    meaning: "Animals put back alive are recorded and not counted.",
    hint: "nothing to do; keep the record, protected animals need a permit",
    example: "sheet.csv:14:2 note released-animals 1 Margaritifera was put back and is not counted",
  }),
] as const;
