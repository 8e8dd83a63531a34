import { visibleText } from "../files/visible-text.ts";
import type { Finding, Severity } from "../findings/finding.ts";
import { painter } from "./colour.ts";
import type { TextStream } from "./context.ts";

export interface MessageStyle {
  readonly isColoured: boolean;
  readonly isQuiet: boolean;
  /** How many findings of one code are printed. */
  readonly mostPerCode: number;
}

/** One finding in one line, as editors and scripts read it. */
export function findingLine(finding: Finding, paint = painter(false)): string {
  const tone: Record<Severity, (text: string) => string> = {
    error: paint.red,
    warning: paint.yellow,
    note: paint.dim,
  };
  const place = `${finding.file}:${finding.line}:${finding.column}`;
  const hint = finding.hint === "" ? "" : ` (${visibleText(finding.hint)})`;
  return `${visibleText(place)} ${tone[finding.severity](`${finding.severity} ${finding.code}`)} ${visibleText(finding.message)}${hint}`;
}

/** Prints findings to the person: repeats of a code are grouped, and a last line counts them all. */
export async function printFindings(
  findings: readonly Finding[],
  stream: TextStream,
  style: MessageStyle,
): Promise<void> {
  const shown = style.isQuiet ? findings.filter((finding) => finding.severity === "error") : findings;
  if (shown.length === 0) return;
  const paint = painter(style.isColoured);
  const met = new Map<string, number>();
  const lines: string[] = [];
  for (const finding of shown) {
    const times = (met.get(finding.code) ?? 0) + 1;
    met.set(finding.code, times);
    if (times <= style.mostPerCode) lines.push(findingLine(finding, paint));
  }
  for (const [code, times] of met) {
    if (times > style.mostPerCode) lines.push(paint.dim(`... and ${times - style.mostPerCode} more ${code}`));
  }
  lines.push(tally(shown));
  await stream.write(`${lines.join("\n")}\n`);
}

function tally(findings: readonly Finding[]): string {
  const parts = (["error", "warning", "note"] as const).flatMap((severity) => {
    const count = findings.filter((finding) => finding.severity === severity).length;
    return count === 0 ? [] : [`${count} ${severity}${count === 1 ? "" : "s"}`];
  });
  return `findings: ${parts.join(", ")}`;
}
