import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import { CountPolicy } from "../names/count-policy.ts";
import type { CheckedSample } from "../pipeline/check-batch.ts";
import { checkBatch } from "../pipeline/check-batch.ts";
import { loadBatch, loadRows } from "../pipeline/load.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { quietOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";
import { writeTable } from "./output.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  text("site_id"),
  text("collected_on"),
  text("readiness"),
  { name: "individuals", kind: "number" },
  text("flags"),
];

/** The work of `check`. */
export async function checkFiles(
  context: CommandContext,
  options: OptionValues,
  opened: OpenedBatch,
  plan: OutputPlan,
  reference: string | undefined,
): Promise<ExitCode> {
  const loaded =
    reference === undefined
      ? { ...(await loadRows(opened)), set: undefined }
      : await loadBatch(opened, reference, context.cwd, { rowsOnly: true });
  const files = loaded.inputs.map((input) => input.file);
  if (loaded.rows === undefined)
    return worst(await finish(context, options, loaded.findings, files), EXIT.refused);
  const { rows, set } = loaded;
  const policy = new CountPolicy(rows.names.tree, rows.space.stageRules, set?.definition.count_policy ?? []);
  const findings: Finding[] = [...loaded.findings];
  const tally = new Map<CheckedSample["readiness"], number>();
  const checked = function* (): Generator<OutputRow> {
    for (const { sample, findings: found } of checkBatch(rows, policy)) {
      findings.push(...found);
      tally.set(sample.readiness, (tally.get(sample.readiness) ?? 0) + 1);
      yield [
        sample.sampleId,
        sample.siteId,
        sample.collectedOn,
        sample.readiness,
        sample.individuals ?? null,
        sample.flags.join(";"),
      ];
    }
  };
  await writeTable(context, plan, {
    columns: COLUMNS,
    rows: checked(),
    envelope: { schema: "jartally/check@1", inputs: loaded.inputs },
  });
  const exit = await finish(context, options, findings, files);
  if (options.get(quietOption) !== true) await context.stderr.write(`${summary(tally)}\n`);
  return exit;
}

function summary(tally: ReadonlyMap<string, number>): string {
  const parts = (["ready", "held-back", "refused", "missing"] as const).flatMap((readiness) => {
    const count = tally.get(readiness);
    return count === undefined ? [] : [`${count} ${readiness}`];
  });
  return parts.length === 0 ? "no sample" : `samples: ${parts.join(", ")}`;
}
