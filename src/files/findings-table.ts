import type { Finding } from "../findings/finding.ts";
import { delimitedText } from "./formats/delimited-text.ts";
import { withGuard } from "./formula-guard.ts";
import { visibleText } from "./visible-text.ts";

/**
 * Findings as CSV with a header row, as `--findings` writes them.
 *
 * @param findings in the order in which they shall stand
 */
export function findingsTable(findings: readonly Finding[]): string {
  const header = ["file", "line", "column", "severity", "code", "sample_id", "message", "hint"];
  const rows = findings.map((finding) => [
    withGuard(finding.file),
    String(finding.line),
    String(finding.column),
    finding.severity,
    finding.code,
    withGuard(finding.sampleId),
    withGuard(visibleText(finding.message)),
    withGuard(visibleText(finding.hint)),
  ]);
  return delimitedText([header, ...rows], ",");
}
