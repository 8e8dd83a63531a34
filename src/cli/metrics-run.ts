import type { OutputRow } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import { loadBatch } from "../pipeline/load.ts";
import { withMetrics } from "../pipeline/other-metrics.ts";
import { scoreBatch } from "../pipeline/score-batch.ts";
import { metricColumns, metricRow } from "../pipeline/score-tables.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import type { OutputPlan } from "./output.ts";
import { writeTable } from "./output.ts";
import { settleSeed } from "./seed.ts";

export interface MetricsChoices {
  readonly reference: string;
  readonly attributes?: readonly string[] | undefined;
  readonly seed: string | undefined;
  readonly target: number | null | undefined;
  /** Ids of the catalogue, in place of the set's metrics. */
  readonly only: readonly string[] | undefined;
}

/** The work of `metrics`: the road of `score` without the scoring. */
export async function measureFiles(
  context: CommandContext,
  options: OptionValues,
  opened: OpenedBatch,
  plan: OutputPlan,
  choices: MetricsChoices,
): Promise<ExitCode> {
  const loaded = await loadBatch(opened, choices.reference, context.cwd, choices);
  const files = loaded.inputs.map((input) => input.file);
  if (loaded.batch === undefined || loaded.set === undefined) {
    return worst(await finish(context, options, loaded.findings, files), EXIT.refused);
  }
  const chosen = withMetrics(loaded.batch, choices.only);
  if ("problems" in chosen)
    throw new UsageError(
      `--only: ${chosen.problems.join("; ")}`,
      "jartally metrics --list shows the catalogue",
    );
  const { batch } = chosen;
  const ids = batch.compiled.metrics.map((metric) => metric.id);
  const seed = settleSeed(choices.seed, context);
  const findings: Finding[] = [...loaded.findings];
  const rows = function* (): Generator<OutputRow> {
    for (const { score, findings: found } of scoreBatch(batch, { ...choices, seed, metricsOnly: true })) {
      findings.push(...found);
      yield metricRow(ids, score);
    }
  };
  await writeTable(context, plan, {
    columns: metricColumns(ids),
    rows: rows(),
    envelope: {
      schema: "jartally/metrics@1",
      inputs: loaded.inputs,
      reference: {
        id: loaded.set.definition.id,
        version: loaded.set.definition.version,
        hash: loaded.set.hash,
      },
      seed,
    },
  });
  return finish(context, options, findings, files);
}
