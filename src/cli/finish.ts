import { resolve } from "node:path";
import { findingsTable } from "../files/findings-table.ts";
import { writeWhole } from "../files/safe-write.ts";
import type { Finding } from "../findings/finding.ts";
import { sortFindings } from "../findings/finding.ts";
import { wantsColour } from "./colour.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { EXIT, type ExitCode } from "./exit-codes.ts";
import { printFindings } from "./messages.ts";
import {
  colourOption,
  findingsOption,
  maxFindingsOption,
  quietOption,
  strictOption,
} from "./options/messages.ts";
import { forceOption } from "./options/output.ts";

/**
 * The end of every command that found something: findings in their one order to the person and, when asked for,
 * to a file; and the exit code they mean.
 *
 * @param files the inputs in the order given
 */
export async function finish(
  context: CommandContext,
  options: OptionValues,
  found: readonly Finding[],
  files: readonly string[],
): Promise<ExitCode> {
  const findings = sortFindings(found, files);
  await printFindings(findings, context.stderr, {
    isColoured: wantsColour(options.get(colourOption) ?? "auto", context.env, context.stderr),
    isQuiet: options.get(quietOption) === true,
    mostPerCode: options.get(maxFindingsOption) ?? 5,
  });
  const path = options.get(findingsOption);
  if (path !== undefined) {
    await writeWhole(
      resolve(context.cwd, path),
      { force: options.get(forceOption) === true, shownAs: path },
      async (sink) => sink.write(findingsTable(findings)),
    );
  }
  if (findings.some((one) => one.severity === "error")) return EXIT.refused;
  if (options.get(strictOption) === true && findings.some((one) => one.severity === "warning"))
    return EXIT.no;
  return EXIT.done;
}
