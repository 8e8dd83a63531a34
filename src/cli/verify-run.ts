import type { OutputRow } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import type { Verification } from "../pipeline/verify-run.ts";
import { verifyRun } from "../pipeline/verify-run.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { findingsOption, quietOption, threadsOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";
import { writeTable } from "./output.ts";
import { progressLine } from "./progress.ts";
import { refuseInsideRuns } from "./run-place.ts";

/** The work of `verify`. */
export async function verifyRuns(
  context: CommandContext,
  options: OptionValues,
  plan: OutputPlan,
  folders: readonly string[],
): Promise<ExitCode> {
  refuseInsideRuns([plan.path, options.get(findingsOption)], folders, context.cwd);
  const findings: Finding[] = [];
  const rows: OutputRow[] = [];
  const lines: string[] = [];
  let agrees = true;
  let hasRun = false;
  const progress = progressLine(context, options);
  for (const folder of folders) {
    const verification = await verifyRun(folder, context.cwd, progress.watch, options.get(threadsOption));
    agrees &&= verification.agrees;
    hasRun ||= verification.isRun;
    findings.push(...verification.findings);
    lines.push(verdict(folder, verification));
    if (!verification.isRun)
      rows.push([folder, "", "no", "nothing", verification.findings[0]?.message ?? ""]);
    for (const { file, agrees: isSame, compared, why } of verification.files)
      rows.push([folder, file, isSame === undefined ? "" : isSame ? "yes" : "no", compared, why]);
  }
  await progress.end();
  // A table of files says nothing where no folder is a run; beside runs such a folder has a row without a file.
  if (hasRun) {
    await writeTable(context, plan, {
      columns: ["run", "file", "agrees", "compared", "why"].map((name) => ({ name, kind: "text" })),
      rows,
      envelope: { schema: "jartally/verified-files@1", inputs: [] },
    });
  }
  const exit = await finish(context, options, findings, []);
  if (options.get(quietOption) !== true) await context.stderr.write(`${lines.join("\n")}\n`);
  // A difference is the answer to the question asked, not refused data.
  return agrees ? worst(exit, EXIT.done) : EXIT.no;
}

function verdict(folder: string, { agrees, isRun, files, fingerprint, findings }: Verification): string {
  if (!isRun) return `${folder} is no run: nothing was verified`;
  const again = files.filter((one) => one.compared === "checksum and content").length;
  if (agrees)
    return `${folder} agrees: ${files.length} files as they were, ${again} of them worked out again; fingerprint ${fingerprint}`;
  const differences = findings.filter((one) => one.severity === "error").length;
  return `${folder} does not agree: ${differences} difference${differences === 1 ? "" : "s"}`;
}
