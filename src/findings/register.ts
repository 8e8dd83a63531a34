import { FILE_CODES } from "./codes/file-codes.ts";
import { INTAKE_CODES } from "./codes/intake-codes.ts";
import { INTERVAL_CODES } from "./codes/interval-codes.ts";
import { LOG_CODES } from "./codes/log-codes.ts";
import { NAME_CODES } from "./codes/name-codes.ts";
import { QUALITY_CODES } from "./codes/quality-codes.ts";
import { REFERENCE_CHECK_CODES } from "./codes/reference-check-codes.ts";
import { REFERENCE_CODES } from "./codes/reference-codes.ts";
import { RUN_CODES } from "./codes/run-codes.ts";
import { SCORE_CODES } from "./codes/score-codes.ts";
import { SHEET_CODES } from "./codes/sheet-codes.ts";
import { SUBSAMPLE_CODES } from "./codes/subsample-codes.ts";
import type { FindingEntry } from "./define.ts";

/** Codes that concern one thing. */
export interface FindingTopic {
  readonly title: string;
  readonly entries: readonly FindingEntry[];
}

/** Every code a finding can have, topic by topic. A new code is one entry in the file of its topic. */
export const FINDING_REGISTER = [
  ...FILE_CODES,
  ...SHEET_CODES,
  ...LOG_CODES,
  ...INTAKE_CODES,
  ...NAME_CODES,
  ...SUBSAMPLE_CODES,
  ...REFERENCE_CODES,
  ...REFERENCE_CHECK_CODES,
  ...SCORE_CODES,
  ...INTERVAL_CODES,
  ...RUN_CODES,
  ...QUALITY_CODES,
] as const;

/** The same by topic, for the page that lists them. */
export const FINDING_TOPICS: readonly FindingTopic[] = [
  { title: "Files", entries: FILE_CODES },
  { title: "Bench sheets", entries: SHEET_CODES },
  { title: "Sample log and lists", entries: LOG_CODES },
  { title: "Intake", entries: INTAKE_CODES },
  { title: "Names", entries: NAME_CODES },
  { title: "Subsampling", entries: SUBSAMPLE_CODES },
  { title: "Reference sets", entries: [...REFERENCE_CODES, ...REFERENCE_CHECK_CODES] },
  { title: "Scores", entries: SCORE_CODES },
  { title: "Intervals", entries: INTERVAL_CODES },
  { title: "Runs", entries: RUN_CODES },
  { title: "Quality control", entries: QUALITY_CODES },
];

export type FindingCode = (typeof FINDING_REGISTER)[number]["code"];

const BY_CODE: ReadonlyMap<string, FindingEntry> = new Map(
  FINDING_REGISTER.map((entry) => [entry.code, entry]),
);

/** The entry of a code. */
export function findingEntry(code: FindingCode): FindingEntry {
  const entry = BY_CODE.get(code);
  if (entry === undefined) throw new RangeError(`no finding has the code ${code}`);
  return entry;
}
