import { compareCodePoints } from "../model/order.ts";
import type { FindingCode } from "./register.ts";
import { findingEntry } from "./register.ts";

/** How much a finding weighs: an error refuses a sample or the run, a warning is a doubt, a note is a fact. */
export type Severity = "error" | "warning" | "note";

/** Where a finding points. Line and column are 1-based; column is the number of the field; 0:0 is the whole file. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** One thing the checker has to say. */
export interface Finding extends Place {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly message: string;
  readonly hint: string;
  /** The sample it concerns; empty when it concerns a file or the whole batch. */
  readonly sampleId: string;
}

/** What the caller adds to the entry of the register. */
export interface FindingDetails {
  readonly message: string;
  readonly sampleId?: string | undefined;
  /** Replaces the hint of the register where the situation allows a better one. */
  readonly hint?: string | undefined;
  /** Replaces the severity of the register (only where the register says that it varies). */
  readonly severity?: Severity | undefined;
}

/** The whole file, when no line can be named. */
export function wholeFile(file: string): Place {
  return { file, line: 0, column: 0 };
}

/** A message that repeats more of a file than this is cut: a cell may be as long as the file. */
const LONGEST_MESSAGE = 1000;

/** Makes a finding: severity and hint come from the register unless the caller knows better. */
export function finding(code: FindingCode, place: Place, details: FindingDetails): Finding {
  const entry = findingEntry(code);
  return {
    code,
    severity: details.severity ?? entry.severity,
    file: place.file,
    line: place.line,
    column: place.column,
    message: fitting(details.message),
    hint: details.hint ?? entry.hint,
    sampleId: details.sampleId ?? "",
  };
}

function fitting(message: string): string {
  if (message.length <= LONGEST_MESSAGE) return message;
  // Not between the two halves of a character beyond the first 65,536.
  return `${message.slice(0, LONGEST_MESSAGE - 1).replace(/[\ud800-\udbff]$/, "")}…`;
}

/**
 * Puts findings into their one order: input (in the order given), line, column, code, sample, message.
 *
 * @param files the inputs in the order the user gave them; files not listed come last, by name
 */
export function sortFindings(findings: readonly Finding[], files: readonly string[]): Finding[] {
  const rank = new Map<string, number>();
  for (const file of files) if (!rank.has(file)) rank.set(file, rank.size);
  const rankOf = (file: string) => rank.get(file) ?? rank.size;
  return [...findings].sort(
    (a, b) =>
      rankOf(a.file) - rankOf(b.file) ||
      compareCodePoints(a.file, b.file) ||
      a.line - b.line ||
      a.column - b.column ||
      compareCodePoints(a.code, b.code) ||
      compareCodePoints(a.sampleId, b.sampleId) ||
      compareCodePoints(a.message, b.message),
  );
}
