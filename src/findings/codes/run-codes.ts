import { defineFinding } from "../define.ts";

/** Run folders: verifying and re-scoring. */
export const RUN_CODES = [
  defineFinding({
    code: "refused-sample",
    severity: "error",
    meaning: "A sample was not scored because of another finding about it.",
    hint: "correct the findings of this sample and score again",
    example: "sheet.csv:2:1 error refused-sample VN-03 is not scored: unknown-taxon",
  }),
  defineFinding({
    code: "amendment-does-not-fit",
    severity: "error",
    meaning:
      "A correction speaks of a sample that the run does not have, or of an old count that its rows do not have.",
    hint: "see rows.csv of the run: the old count is the sum of the sample's rows under this name",
    example: "amend.csv:3:4 error amendment-does-not-fit sample VN-03 has 14 Baetis, not 12",
  }),
  defineFinding({
    code: "run-file-changed",
    severity: "error",
    meaning: "A file of a run folder is not the one whose SHA-256 stands in checksums.txt.",
    hint: "take the folder from where it was filed; a run is never edited, a correction is a re-score",
    example: "run-2024/scores.csv:0:0 error run-file-changed the file was changed since the run was made",
  }),
  defineFinding({
    code: "run-file-missing",
    severity: "error",
    meaning: "A file that checksums.txt names is not in the run folder.",
    hint: "take the folder from where it was filed",
    example: "run-2024/draw.csv:0:0 error run-file-missing the file is missing",
  }),
  defineFinding({
    code: "run-file-added",
    severity: "error",
    meaning: "A file is in the run folder that the run did not leave there.",
    hint: "keep notes beside the run folder, not in it",
    example: "run-2024/notes.txt:0:0 error run-file-added the file is no part of the run",
  }),
  defineFinding({
    code: "run-result-differs",
    severity: "error",
    meaning:
      "A file of a run folder does not follow from the rest of it: worked out again, it has other bytes.",
    hint: "the file, or the rows or tables it follows from, were changed",
    example:
      "run-2024/scores.csv:5:0 error run-result-differs worked out again, the file differs from line 5 on",
  }),
  defineFinding({
    code: "run-set-changed",
    severity: "error",
    meaning: "The reference set in the run folder is not the one that run.json says was used.",
    hint: "take the folder from where it was filed; to score under another set, use rescore",
    example:
      "run-2024/run.json:0:0 error run-set-changed the set in reference/ has another hash than run.json says",
  }),
  defineFinding({
    code: "run-other-algorithm",
    severity: "error",
    meaning:
      "The run was made with a version of a random procedure that this version of jartally does not have.",
    hint: "verify it with the version of jartally that run.json names",
    example:
      "run-2024/run.json:0:0 error run-other-algorithm the run drew with fixed-count-individual/9; this version has fixed-count-individual/1",
  }),
  defineFinding({
    code: "run-other-version",
    severity: "note",
    meaning: "The run was made by another version of jartally than the one that checks it.",
    hint: "nothing to do as long as the results agree",
    example: "run-2024/run.json:0:0 note run-other-version the run was made by jartally 0.1.0; this is 0.2.0",
  }),
  defineFinding({
    code: "run-unreadable",
    severity: "error",
    meaning:
      "The folder cannot be read as a run: a file is missing, or does not have the form of a run's file.",
    hint: "score --run makes a run folder; name that folder, or take the run from where it was filed",
    example: "run-2024/run.json:0:0 error run-unreadable run.json cannot be read as a run: it is no JSON",
  }),
] as const;
