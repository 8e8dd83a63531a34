import type { Exact } from "../../model/exact.ts";
import { compareExact, fraction, parseDecimal, ZERO } from "../../model/exact.ts";
import type { QualityLimit } from "../../quality/judgement.ts";
import { parseShare } from "../../quality/share.ts";
import type { OptionDefinition, OptionValues } from "../define.ts";
import { defineOption, UsageError } from "../define.ts";
import { samplesOption } from "../options/input.ts";

/** The sample log under the name that people try first in quality control. */
export const logOption = defineOption<string>({
  flags: "--log <log>",
  summary: "The sample log; another name of --samples.",
  group: "Input",
  parse: (word) => word,
});

/** The sample log, by whichever of its two options. @throws UsageError when they name different files */
export function logPath(options: OptionValues): string | undefined {
  const samples = options.get(samplesOption);
  const log = options.get(logOption);
  if (log !== undefined && !options.isGiven(samplesOption)) return log;
  if (samples !== undefined && log !== undefined && samples !== log) {
    throw new UsageError("--samples and --log both name the sample log; give one of them");
  }
  return samples ?? log;
}

export const reportOption = defineOption<string>({
  flags: "--report <dir>",
  summary: "Also leave a folder with a page to read and print (control charts in it) and every table as CSV.",
  group: "Output",
  parse: (word) => word,
});

/** Which of a command's tables is written. */
export function tableOption(tables: readonly string[], defaultText: string): OptionDefinition<string> {
  return defineOption<string>({
    flags: "--table <name>",
    summary: "Which table is written. A table on the terminal has the main columns, files have all of them.",
    group: "Output",
    choices: () => tables,
    defaultText,
    parse: (word) => word,
  });
}

export const shareOption = defineOption<{ readonly share: Exact; readonly text: string }>({
  flags: "--share <share>",
  summary: "Share of the samples that a second person checks, as 10%, 0.1 or 1/10; rounded up.",
  group: "Method",
  defaultText: "10%",
  parse: (word) => {
    const share = parseShare(word);
    if (share === undefined) {
      throw new UsageError(`"${word}" is not a share above 0 and up to all, such as 10%, 0.1 or 1/10`);
    }
    return { share, text: word.trim() };
  },
});

export const USUAL_SHARE = { share: fraction(1, 10), text: "10%" };

/** A limit in percent, or 'none'. */
export function limitOption(
  flags: string,
  summary: string,
  side: QualityLimit["side"],
  usual: string,
): OptionDefinition<QualityLimit | null> {
  return defineOption<QualityLimit | null>({
    flags,
    summary,
    group: "Method",
    defaultText: usual,
    parse: (word) => (word === "none" ? null : { side, at: parseLimit(word) }),
  });
}

function parseLimit(word: string): Exact {
  const limit = parseDecimal(word.replace(/(?<!\s)\s*%$/, ""));
  if (limit === undefined || compareExact(limit, ZERO) < 0)
    throw new UsageError(`"${word}" is not a limit: a number from 0, or 'none'`);
  return limit;
}

/** The limit in force: the user's, the usual one, or none. */
export function settleLimit(
  given: QualityLimit | null | undefined,
  usual: QualityLimit | undefined,
): QualityLimit | undefined {
  return given === null ? undefined : (given ?? usual);
}
