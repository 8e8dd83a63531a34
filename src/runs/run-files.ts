/** Names of the files of a run folder. The first group is what went in, the second what follows from it. */
export const RUN_FILES = {
  record: "run.json",
  rows: "rows.csv",
  samples: "samples.csv",
  sampleLog: "sample-log.csv",
  names: "names.csv",
  amendments: "amendments.csv",
  readingFindings: "reading-findings.csv",
  reference: "reference",
  scores: "scores.csv",
  metrics: "metrics.csv",
  draw: "draw.csv",
  piles: "piles.csv",
  counts: "counts.csv",
  findings: "findings.csv",
  schema: "run.schema.json",
  readme: "README.txt",
  checksums: "checksums.txt",
} as const;

/** The files that follow from the others and are worked out again by `verify`. */
export const RESULT_FILES = [
  RUN_FILES.scores,
  RUN_FILES.metrics,
  RUN_FILES.draw,
  RUN_FILES.piles,
  RUN_FILES.counts,
  RUN_FILES.findings,
] as const;
export type ResultFile = (typeof RESULT_FILES)[number];

/** What a run folder says to somebody who opens it and does not know it. */
export const RUN_README = `This folder is one scoring run of jartally, with everything needed to repeat and to judge it.

What went in
  run.json              versions, options, seed, every input with its SHA-256, the reference set (run.schema.json describes it)
  rows.csv              every row of the bench sheets, with the file, line and field it came from
  samples.csv           every sample, and why its rows or its row in the log refuse it, if they do
  sample-log.csv        the sample log, if one was given
  names.csv             the lab's own list of names, if one was given
  amendments.csv        corrections made after the sheets were read, if there are any; rows.csv stays as it was
  reading-findings.csv  what was found while the files were read
  reference/            the reference set and every table it used: taxa, other names, life stages, attributes, sources

What came out
  scores.csv            one row a sample: status, index, rating, every metric and its score
  metrics.csv           the same, one row a metric
  draw.csv              how each sample was brought to its fixed count
  piles.csv             the animals of each name and life stage before and after the draw
  counts.csv            the taxa and counts that the metrics were worked out from
  findings.csv          everything there was to say, with its place

checksums.txt has the SHA-256 of every other file.

  jartally verify FOLDER                     works everything out again and compares every byte
  jartally rescore FOLDER --reference SET    scores the same rows under another set, and says what changed and why
  jartally explain FOLDER --sample ID        how the numbers of one sample came about

A score holds for the region, season, gear and level its set was made for. It is no legal determination unless the
responsible agency's method was followed by qualified people.
`;
