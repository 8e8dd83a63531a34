import type { OutputRow } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import { loadBatch } from "../pipeline/load.ts";
import type { MeasureChoices } from "../pipeline/measure-batch.ts";
import { countMeasured, measureBatch } from "../pipeline/measure-batch.ts";
import { withMetrics } from "../pipeline/other-metrics.ts";
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
import { progressBesideRows, watched } from "./progress.ts";
import { settleSeed } from "./seed.ts";

export interface MetricsChoices {
  readonly reference: string;
  readonly attributes?: readonly string[] | undefined;
  readonly seed: string | undefined;
  readonly target: number | null | undefined;
  /** Ids of the catalogue, in place of the set's metrics. */
  readonly only: readonly string[] | undefined;
  readonly parents: MeasureChoices["parents"];
  readonly replicates: MeasureChoices["replicates"];
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
  const extra = {
    parents: choices.parents !== undefined,
    replicates: choices.replicates !== "each",
  };
  let refused = false;
  const progress = progressBesideRows(context, options, plan);
  const rows = async function* (): AsyncGenerator<OutputRow> {
    const all = measureBatch(batch, { ...choices, seed });
    for await (const measured of watched(all, progress, "samples", countMeasured(batch, choices))) {
      findings.push(...measured.findings);
      refused ||= measured.score.status === "refused";
      yield metricRow(ids, measured.score, [
        ...(extra.parents ? [measured.parents] : []),
        ...(extra.replicates ? [choices.replicates, measured.replicates] : []),
      ]);
    }
  };
  await writeTable(context, plan, {
    columns: metricColumns(ids, extra),
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
  const exit = await finish(context, options, findings, files);
  return worst(exit, refused ? EXIT.refused : EXIT.done);
}
