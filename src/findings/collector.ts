import type { Finding } from "./finding.ts";

/** Where the steps of the road leave what they have to say. */
export interface FindingSink {
  add(finding: Finding): void;
}

/** Keeps findings in the order in which they came and counts the errors among them. */
export class FindingCollector implements FindingSink {
  readonly #findings: Finding[] = [];

  add(finding: Finding): void {
    this.#findings.push(finding);
  }

  get all(): readonly Finding[] {
    return this.#findings;
  }

  count(severity: Finding["severity"]): number {
    let count = 0;
    for (const finding of this.#findings) if (finding.severity === severity) count++;
    return count;
  }
}
