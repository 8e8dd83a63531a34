import type { OutputRow } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import type { Watcher } from "../model/watcher.ts";
import { IntervalMemory } from "../pipeline/intervals/interval-memory.ts";
import { loadBatch } from "../pipeline/load.ts";
import type { SampleScore } from "../pipeline/result.ts";
import { inRunOrder, runOfBatch } from "../pipeline/run-of-batch.ts";
import type { ScoredSample } from "../pipeline/score-batch.ts";
import { scoreInThreads } from "../pipeline/score-batch.ts";
import { longColumns, longRows, wideColumns, wideRow } from "../pipeline/score-tables.ts";
import type { RunPlace, WrittenRun } from "../pipeline/write-run.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { RunRecord } from "../runs/run-record.ts";
import type { ResamplingPlan } from "../scoring/intervals/plan.ts";
import type { ReadFile } from "../sheets/bench-sheet.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { quietOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";
import { writeTable } from "./output.ts";
import { progressBesideRows, progressLine, watched } from "./progress.ts";
import { scoreView } from "./score-view.ts";
import { settleSeed } from "./seed.ts";
import { setNotice } from "./set-notice.ts";

/** The run folder to be left. */
export interface RunChoice {
  readonly place: RunPlace;
  readonly environment: RunRecord["environment"];
}

/** What the user chose for a scoring run. */
export interface ScoreChoices {
  readonly reference: string;
  readonly from?: "counts" | "metrics" | undefined;
  readonly attributes?: readonly string[] | undefined;
  readonly classes?: string | undefined;
  readonly seed: string | undefined;
  readonly target: number | null | undefined;
  readonly stratum: string | undefined;
  readonly layout: "wide" | "long";
  readonly allOrNothing: boolean;
  readonly run?: RunChoice | undefined;
  readonly resampling?: ResamplingPlan | undefined;
  readonly threads?: number | undefined;
}

/** The work of `score`: reads, scores, writes, and says what was found. */
export async function scoreFiles(
  context: CommandContext,
  options: OptionValues,
  opened: OpenedBatch,
  plan: OutputPlan,
  choices: ScoreChoices,
): Promise<ExitCode> {
  const loaded = await loadSamples(context, opened, choices);
  const files = loaded.inputs.map((input) => input.file);
  const { scoreAll, set } = loaded;
  if (scoreAll === undefined || set === undefined)
    return worst(await finish(context, options, loaded.findings, files), EXIT.refused);

  refuseUnknownStratum(choices.stratum, set);
  const seed = settleSeed(choices.seed, context);
  const findings: Finding[] = [...loaded.findings];
  const tally = new Map<SampleScore["status"], number>();
  const progress = progressBesideRows(context, options, plan);
  const scores = async function* (): AsyncGenerator<SampleScore> {
    for await (const { score, findings: found } of watched(
      scoreAll(seed),
      progress,
      "samples",
      loaded.count,
    )) {
      findings.push(...found);
      tally.set(score.status, (tally.get(score.status) ?? 0) + 1);
      yield score;
    }
  };
  let all: Iterable<SampleScore> | AsyncIterable<SampleScore> = scores();
  if (choices.allOrNothing) {
    const held: SampleScore[] = [];
    for await (const score of all) held.push(score);
    if (held.some((score) => score.status === "refused" || score.status === "held-back")) {
      const exit = await finish(context, options, findings, files);
      await say(context, options, "nothing was written: not every sample can be scored (--all-or-nothing)");
      return worst(exit, EXIT.refused);
    }
    all = held;
  }
  const { run } = choices;
  const saving = progressLine(context, options);
  const saved = run === undefined ? undefined : await loaded.save?.(run, seed, saving.watch);
  await saving.end();
  const hasIntervals = choices.resampling !== undefined;
  const view =
    plan.format === "table" && choices.layout === "wide"
      ? scoreView(context, options, set, hasIntervals)
      : undefined;
  await writeTable(context, plan, {
    columns:
      view?.columns ??
      (choices.layout === "long" ? longColumns(hasIntervals) : wideColumns(set, hasIntervals)),
    rows: rowsOf(all, set, choices.layout, view?.row, hasIntervals),
    envelope: {
      schema: `jartally/scores-${choices.layout}@1`,
      inputs: loaded.inputs,
      reference: { id: set.definition.id, version: set.definition.version, hash: set.hash },
      seed,
    },
  });
  const exit = await finish(context, options, findings, files);
  const runLine = saved === undefined ? [] : [`run folder ${run?.place.shownAs}: ${saved.fingerprint}`];
  await say(context, options, [...setNotice(set), summary(tally, plan, seed), ...runLine].join("\n"));
  return worst(exit, (tally.get("refused") ?? 0) > 0 ? EXIT.refused : EXIT.done);
}

interface LoadedSamples {
  readonly set: ReferenceSet | undefined;
  readonly findings: readonly Finding[];
  readonly inputs: readonly ReadFile[];
  /** Samples that will come out. */
  readonly count: number;
  /** Undefined when the run is refused. */
  readonly scoreAll: ((seed: string) => Iterable<ScoredSample> | AsyncIterable<ScoredSample>) | undefined;
  /** Leaves a run folder; only counts can be kept in one. */
  readonly save?: (run: RunChoice, seed: string, watch: Watcher) => Promise<WrittenRun>;
}

/** Reads counts or metric values and joins them with their set. */
async function loadSamples(
  context: CommandContext,
  opened: OpenedBatch,
  choices: ScoreChoices,
): Promise<LoadedSamples> {
  if (choices.from === "metrics") {
    const { loadMetricBatch } = await import("../pipeline/metric-batch.ts");
    const { scoreMetricTable } = await import("../pipeline/score-metric-table.ts");
    const loaded = await loadMetricBatch(opened, choices.reference, context.cwd, choices);
    const { batch } = loaded;
    const scoreAll = batch === undefined ? undefined : () => scoreMetricTable(batch, choices);
    return { ...loaded, count: batch?.table.samples.size ?? 0, scoreAll };
  }
  const { cwd } = context;
  const files = choices.run === undefined ? opened : inRunOrder(opened);
  const loaded = await loadBatch(files, choices.reference, cwd, choices);
  const { batch } = loaded;
  const intervals = new IntervalMemory();
  const scoreAll =
    batch === undefined
      ? undefined
      : (seed: string) => scoreInThreads(batch, { ...choices, seed, known: intervals });
  const save = async ({ place, environment }: RunChoice, seed: string, watch: Watcher) => {
    const { writeRun } = await import("../pipeline/write-run.ts");
    const { reference, target, stratum, attributes, classes, resampling, threads } = choices;
    const scoring = { seed, target, stratum, resampling, threads };
    const setChoices = { attributes, classes };
    return writeRun(
      place,
      await runOfBatch(loaded, { reference, cwd, choices: scoring, setChoices, environment }),
      { watch, intervals },
    );
  };
  return { ...loaded, count: batch?.table.samples.size ?? 0, scoreAll, save };
}

/** A stratum given for all samples is the user's word and no fault of the log. */
function refuseUnknownStratum(stratum: string | undefined, set: ReferenceSet): void {
  const { id, strata } = set.definition;
  if (stratum === undefined || strata.some((one) => one.id === stratum)) return;
  throw new UsageError(
    `--stratum: the set ${id} has no stratum "${stratum}"`,
    `it has ${strata.map((one) => one.id).join(", ")}`,
  );
}

async function* rowsOf(
  scores: Iterable<SampleScore> | AsyncIterable<SampleScore>,
  set: ReferenceSet,
  layout: "wide" | "long",
  view: ((score: SampleScore) => OutputRow) | undefined,
  hasIntervals: boolean,
): AsyncGenerator<OutputRow> {
  for await (const score of scores) {
    if (view !== undefined) yield view(score);
    else if (layout === "long") yield* longRows(set, score, hasIntervals);
    else yield wideRow(set, score, hasIntervals);
  }
}

function summary(tally: ReadonlyMap<string, number>, plan: OutputPlan, seed: string): string {
  const total = [...tally.values()].reduce((sum, count) => sum + count, 0);
  const parts = ["scored", "flagged", "held-back", "refused"].flatMap((status) => {
    const count = tally.get(status);
    return count === undefined ? [] : [`${count} ${status}`];
  });
  const where = plan.path === undefined ? "" : `; written to ${plan.path}`;
  return `${total} sample${total === 1 ? "" : "s"}: ${parts.join(", ")}; seed ${seed}${where}`;
}

async function say(context: CommandContext, options: OptionValues, text: string): Promise<void> {
  if (options.get(quietOption) !== true) await context.stderr.write(`${text}\n`);
}
