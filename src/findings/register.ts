import { FILE_CODES } from "./codes/file-codes.ts";
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

/** Every code a finding can have, topic by topic. A new code is one entry in the file of its topic. */
export const FINDING_REGISTER = [
  ...FILE_CODES,
  ...SHEET_CODES,
  ...LOG_CODES,
  ...NAME_CODES,
  ...SUBSAMPLE_CODES,
  ...REFERENCE_CODES,
  ...REFERENCE_CHECK_CODES,
  ...SCORE_CODES,
  ...RUN_CODES,
  ...QUALITY_CODES,
] as const;

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
