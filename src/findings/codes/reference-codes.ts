import { defineFinding } from "../define.ts";

/** Reference sets and reference tables. */
export const REFERENCE_CODES = [
  defineFinding({
    code: "bad-set",
    severity: "error",
    meaning: "A reference set cannot be used as it is written.",
    hint: "correct the place named; the columns and keys are described in the reference tables' README",
    example: "my-set/set.json:0:0 error bad-set metrics: must not be empty",
  }),
  defineFinding({
    code: "set-gap",
    severity: "warning",
    meaning:
      "Neighbouring segments of a scoring rule, or neighbouring classes, leave values between them that belong to none. The severity is note where the set says that the gap is the publication's own.",
    hint: "close the gap by including a limit; or, if it was published so, say as_published and a tie_rule (for classes: gaps between)",
    example:
      "my-set/thresholds.csv:21:4 warning set-gap percent_dominant: 75 belongs to no segment between line 20 and line 21",
  }),
  defineFinding({
    code: "set-overlap",
    severity: "warning",
    meaning: "Two segments of a scoring rule, or two classes, both hold a value; the lower one decides.",
    hint: "exclude the limit from one of them",
    example:
      "my-set/thresholds.csv:9:4 warning set-overlap ept_richness: 5 belongs to both line 8 and line 9",
  }),
  defineFinding({
    code: "unknown-set-taxon",
    severity: "warning",
    meaning:
      "A table of a set, or one named with --attributes, gives a value to a name that the tree of taxa does not have, so no animal takes it.",
    hint: "correct the spelling, or use the name under which the tree has it",
    example:
      'my-set/taxa.csv:12:1 warning unknown-set-taxon "Betidae" is not in the tree of taxa; did you mean "Baetidae"?',
  }),
  defineFinding({
    code: "attributes-not-held",
    severity: "error",
    meaning:
      "The set's method uses an attribute list that this package does not hold, so counts cannot be scored with it.",
    hint: "give the list with --attributes (a file of taxon,value), name another scheme and take it as a stand-in, or score metric values with --from metrics",
    example:
      "my-set/set.json:31:5 error attributes-not-held tolerance: the method's own list (family tolerance values of an invented region) is not held",
  }),
  defineFinding({
    code: "bad-attributes",
    severity: "error",
    meaning: "An attribute table named with --attributes cannot be used.",
    hint: "a file needs the columns taxon and value (and attribute, where it holds others than tolerance values); attribute schemes are listed in the reference tables' README",
    example: 'my-values.csv:7:2 error bad-attributes "4,5" is not a plain number such as 4 or 5.35',
  }),
  defineFinding({
    code: "other-attributes",
    severity: "warning",
    meaning: "A score rests on an attribute table that the user named and that is not the method's own.",
    hint: "nothing to do if it is meant so; such a score is not the method's",
    example:
      "sheet.csv:2:1 warning other-attributes VN-03: tolerance from rbp1999-northwest, not the method's own list",
  }),
] as const;
