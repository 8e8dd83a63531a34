import { visibleText } from "../files/visible-text.ts";
import type { Finding, Severity } from "../findings/finding.ts";
import { painter } from "./colour.ts";
import type { TextStream } from "./context.ts";
import { groupFindings } from "./finding-groups.ts";

export interface MessageStyle {
  readonly isColoured: boolean;
  readonly isQuiet: boolean;
  /** How many findings of one code are printed. */
  readonly mostPerCode: number;
}

/**
 * One finding in one line, as editors and scripts read it.
 *
 * @param elsewhere where else it holds, behind the message
 */
export function findingLine(finding: Finding, paint = painter(false), elsewhere = ""): string {
  const tone: Record<Severity, (text: string) => string> = {
    error: paint.red,
    warning: paint.yellow,
    note: paint.dim,
  };
  const place = `${finding.file}:${finding.line}:${finding.column}`;
  const hint = finding.hint === "" ? "" : ` (${visibleText(finding.hint)})`;
  return `${visibleText(place)} ${tone[finding.severity](`${finding.severity} ${finding.code}`)} ${visibleText(joined(finding.message, elsewhere))}${hint}`;
}

/** A question is over at its mark, so what follows begins a sentence. */
function joined(message: string, elsewhere: string): string {
  if (!message.endsWith("?")) return message + elsewhere;
  return message + elsewhere.replace(/^; (.)/, (_, first: string) => ` ${first.toUpperCase()}`);
}

/**
 * Prints findings to the person: what is said of several rows or samples stands once, of each code only so many
 * are printed, and a last line counts them all.
 */
export async function printFindings(
  findings: readonly Finding[],
  stream: TextStream,
  style: MessageStyle,
): Promise<void> {
  const shown = style.isQuiet ? findings.filter((finding) => finding.severity === "error") : findings;
  if (shown.length === 0) return;
  const paint = painter(style.isColoured);
  const printed = new Map<string, number>();
  const left = new Map<string, number>();
  const lines: string[] = [];
  for (const { first, count, elsewhere } of groupFindings(shown)) {
    const times = printed.get(first.code) ?? 0;
    if (times < style.mostPerCode) {
      printed.set(first.code, times + 1);
      lines.push(findingLine(first, paint, elsewhere));
    } else left.set(first.code, (left.get(first.code) ?? 0) + count);
  }
  for (const [code, count] of left) lines.push(paint.dim(`... and ${count} more ${code}`));
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
