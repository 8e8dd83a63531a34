import type { Severity } from "./finding.ts";

/** One entry of the register of finding codes: everything a user may ask about a code. */
export interface FindingEntry<Code extends string = string> {
  /** Stable: scripts rely on it; never renamed. Lower case, words joined by hyphens. */
  readonly code: Code;
  readonly severity: Severity;
  /** What it means, one or two sentences. */
  readonly meaning: string;
  /** What to do about it, one sentence; printed behind the message. */
  readonly hint: string;
  /** A message as a user may meet it. */
  readonly example: string;
}

/** Keeps the literal type of the code, so that misspelt codes do not compile. */
export function defineFinding<const Code extends string>(entry: FindingEntry<Code>): FindingEntry<Code> {
  return entry;
}
