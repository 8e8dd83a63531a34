import { resolve } from "node:path";
import { writeWhole } from "../files/safe-write.ts";
import { didYouMean } from "../metrics/closest.ts";
import { explainSample } from "../pipeline/explain/explain-sample.ts";
import type { MetricStory } from "../pipeline/explain/metric-story.ts";
import type { SampleStory } from "../pipeline/explain/story.ts";
import { EXPLAIN_COLUMNS, metricRows, storyRows } from "../pipeline/explain/story-rows.ts";
import type { LoadedBatch } from "../pipeline/load.ts";
import { loadBatch } from "../pipeline/load.ts";
import { withMetrics } from "../pipeline/other-metrics.ts";
import type { Batch, ScoringChoices } from "../pipeline/score-batch.ts";
import type { ResamplingPlan } from "../scoring/intervals/plan.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { metricPage, samplePage } from "./explain-page.ts";
import { finish } from "./finish.ts";
import { quietOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";
import { streamSink, writeTable } from "./output.ts";
import { settleSeed } from "./seed.ts";
import { setNotice } from "./set-notice.ts";

/** What the user wants explained, and how the sample is to be scored. */
export interface ExplainRequest {
  readonly reference: string;
  readonly sample: string;
  /** Undefined: the whole road. */
  readonly metric: string | undefined;
  readonly attributes?: readonly string[] | undefined;
  readonly classes?: string | undefined;
  readonly seed: string | undefined;
  readonly target: number | null | undefined;
  readonly stratum: string | undefined;
  readonly resampling?: ResamplingPlan | undefined;
}

/** The work of `explain` from sheets. */
export async function explainFiles(
  context: CommandContext,
  options: OptionValues,
  opened: OpenedBatch,
  plan: OutputPlan,
  request: ExplainRequest,
): Promise<ExitCode> {
  const loaded = await loadBatch(opened, request.reference, context.cwd, request);
  if (loaded.batch === undefined) {
    const files = loaded.inputs.map((input) => input.file);
    return worst(await finish(context, options, loaded.findings, files), EXIT.refused);
  }
  const seed = settleSeed(request.seed, context);
  const { target, stratum, resampling } = request;
  const choices = { seed, target, stratum, resampling };
  return explainLoaded(context, options, plan, { ...loaded, batch: loaded.batch }, choices, request);
}

/** The work of `explain` from a batch that was read, wherever from. */
export async function explainLoaded(
  context: CommandContext,
  options: OptionValues,
  plan: OutputPlan,
  loaded: Pick<LoadedBatch, "inputs" | "findings"> & { readonly batch: Batch },
  choices: ScoringChoices,
  request: Pick<ExplainRequest, "sample" | "metric">,
): Promise<ExitCode> {
  const { batch, story, metric } = explained(loaded.batch, choices, request);
  const { set } = batch.compiled;
  const notices = setNotice(set);
  if (plan.format === "table") {
    const { stdout } = context;
    const width = plan.path === undefined && stdout.isTerminal ? stdout.width : undefined;
    const page = await (metric === undefined ? samplePage(story, width) : metricPage(story, metric, width));
    await writePage(context, plan, page);
  } else {
    await writeTable(context, plan, {
      columns: EXPLAIN_COLUMNS,
      rows: metric === undefined ? storyRows(story) : metricRows(story, metric),
      envelope: {
        schema: "jartally/explanation@1",
        inputs: loaded.inputs,
        reference: { id: set.definition.id, version: set.definition.version, hash: set.hash },
        seed: choices.seed,
      },
    });
  }
  // Of the batch only what concerns the sample, or all samples, is to be said here.
  const ofBatch = loaded.findings.filter((one) => one.sampleId === "" || one.sampleId === request.sample);
  const files = loaded.inputs.map((input) => input.file);
  const exit = await finish(context, options, [...ofBatch, ...story.findings], files);
  if (options.get(quietOption) !== true)
    await context.stderr.write(`${[...notices, `seed ${choices.seed}`].join("\n")}\n`);
  return worst(exit, story.score.status === "refused" ? EXIT.refused : EXIT.done);
}

function explained(
  batch: Batch,
  choices: ScoringChoices,
  request: Pick<ExplainRequest, "sample" | "metric">,
): { readonly batch: Batch; readonly story: SampleStory; readonly metric: MetricStory | undefined } {
  const ownMetrics = batch.compiled.metrics.map((metric) => metric.id);
  const isOther = request.metric !== undefined && !ownMetrics.includes(request.metric);
  // A metric beyond the set's has a value and no score.
  const chosen = isOther ? withMetrics(batch, [request.metric]) : { batch };
  if ("problems" in chosen) {
    throw new UsageError(
      `--metric: ${chosen.problems.join("; ")}`,
      `the set has ${ownMetrics.join(", ")}; jartally metrics --list shows the catalogue`,
    );
  }
  const story = explainSample(
    chosen.batch,
    isOther ? { ...choices, metricsOnly: true } : choices,
    request.sample,
  );
  if (story === undefined) {
    const known = batch.table.samples.texts;
    const near = didYouMean(request.sample, known) || beginningAlike(request.sample, known);
    throw new UsageError(
      `--sample: the sheets have no sample "${request.sample}"${near}`,
      "jartally check lists the samples of a sheet",
    );
  }
  return {
    batch: chosen.batch,
    story,
    metric: story.metrics.find((metric) => metric.id === request.metric),
  };
}

/** A part of an id is often all that is typed: the site, or the year. */
function beginningAlike(typed: string, known: readonly string[]): string {
  const wanted = typed.toLowerCase();
  const holding = wanted === "" ? [] : known.filter((id) => id.toLowerCase().includes(wanted));
  if (holding.length === 0) return "";
  const more = holding.length > 5 ? `, and ${holding.length - 5} more` : "";
  return `; it has ${holding.slice(0, 5).join(", ")}${more}`;
}

async function writePage(context: CommandContext, plan: OutputPlan, page: string): Promise<void> {
  if (plan.path === undefined) {
    const sink = streamSink(context.stdout);
    await sink.write(page);
    await sink.flush();
    return;
  }
  await writeWhole(resolve(context.cwd, plan.path), { force: plan.force, shownAs: plan.path }, (sink) =>
    sink.write(page),
  );
}
