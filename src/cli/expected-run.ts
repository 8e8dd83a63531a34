import type { OutputRow } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import { CountPolicy } from "../names/count-policy.ts";
import { loadRows } from "../pipeline/load-rows.ts";
import { EXPECTED_COLUMNS, expectBatch, expectedRow } from "../pipeline/subsample/expected-batch.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import type { OutputPlan } from "./output.ts";
import { writeTable } from "./output.ts";

/** The work of `subsample --expected`: what a draw would give on average, without one. */
export async function expectFiles(
  context: CommandContext,
  options: OptionValues,
  opened: OpenedBatch,
  plan: OutputPlan,
  target: number,
): Promise<ExitCode> {
  const loaded = await loadRows(opened);
  const files = loaded.inputs.map((input) => input.file);
  const { rows } = loaded;
  if (rows === undefined) return worst(await finish(context, options, loaded.findings, files), EXIT.refused);
  const policy = new CountPolicy(rows.names.tree, loaded.shared.stageRules, []);
  const findings: Finding[] = [...loaded.findings];
  let isRefused = false;
  const expected = function* (): Generator<OutputRow> {
    for (const sample of expectBatch(rows, policy, target)) {
      findings.push(...sample.findings);
      isRefused ||= sample.status === "refused";
      yield expectedRow(sample, target);
    }
  };
  await writeTable(context, plan, {
    columns: EXPECTED_COLUMNS,
    rows: expected(),
    envelope: { schema: "jartally/expected-richness@1", inputs: loaded.inputs },
  });
  const exit = await finish(context, options, findings, files);
  return worst(exit, isRefused ? EXIT.refused : EXIT.done);
}
