import type { BatchIntervals } from "./intervals/batch-intervals.ts";
import { intervalsFor } from "./intervals/batch-intervals.ts";
import type { ResamplingThreads } from "./intervals/resampling-threads.ts";
import { SamplePreparer } from "./prepare-sample.ts";
import { referencesFor } from "./reference-samples.ts";
import type { Batch, ScoringChoices } from "./score-batch.ts";
import type { SampleRoad } from "./walk-sample.ts";
import { walkSample } from "./walk-sample.ts";

/** The roads of all samples of a batch in the order in which they first appear, with intervals where asked for. */
export function* roadsOf(batch: Batch, choices: ScoringChoices): Generator<SampleRoad> {
  const { roads, intervals } = start(batch, choices);
  for (const road of roads) yield intervals === undefined ? road : intervals.added(road);
}

/**
 * The same roads in the same order, to the byte; samples are resampled in several threads where there are enough of
 * them to be worth the threads.
 */
export async function* roadsInThreads(batch: Batch, choices: ScoringChoices): AsyncGenerator<SampleRoad> {
  const { roads, intervals } = start(batch, choices);
  const left = batch.table.samples.size - (choices.known?.size ?? 0);
  const threads = intervals === undefined ? undefined : await threadsFor(choices, left);
  if (intervals === undefined || threads === undefined) {
    for (const road of roads) yield intervals === undefined ? road : intervals.added(road);
    return;
  }
  try {
    yield* inThreads(roads, intervals, threads);
  } finally {
    await threads.close();
  }
}

/** What starts threads takes longer to load than a small batch takes without them. */
async function threadsFor(choices: ScoringChoices, samples: number): Promise<ResamplingThreads | undefined> {
  const { openThreads } = await import("./intervals/resampling-threads.ts");
  return openThreads(choices, samples);
}

/** A sample whose outcome is not worked out yet, or not yet taken. */
interface HandedOut {
  isSettled: boolean;
  road(): Promise<SampleRoad>;
}

async function* inThreads(
  roads: Iterable<SampleRoad>,
  intervals: BatchIntervals,
  threads: ResamplingThreads,
): AsyncGenerator<SampleRoad> {
  const waiting: HandedOut[] = [];
  for (const road of roads) {
    waiting.push(handOut(road, intervals, threads));
    await betweenTurns();
    if (waiting.length >= threads.mostWaiting) yield await first(waiting, threads);
  }
  while (waiting.length > 0) yield await first(waiting, threads);
}

function handOut(road: SampleRoad, intervals: BatchIntervals, threads: ResamplingThreads): HandedOut {
  const prepared = intervals.prepare(road);
  if (intervals.known(road) !== undefined)
    return { isSettled: true, road: async () => intervals.complete(road, prepared, undefined) };
  if (prepared?.model === undefined)
    return { isSettled: true, road: async () => intervals.complete(road, prepared, prepared?.run()) };
  const outcome = threads.run(prepared.task, prepared.model, () => prepared.run());
  const handed = { isSettled: false, road: async () => intervals.complete(road, prepared, await outcome) };
  const settle = () => {
    handed.isSettled = true;
  };
  // A failure is met when its turn comes.
  outcome.then(settle, settle);
  return handed;
}

/** The first of the samples with its outcome; until that is there, others are resampled here. */
async function first(waiting: HandedOut[], threads: ResamplingThreads): Promise<SampleRoad> {
  const [next] = waiting.splice(0, 1) as [HandedOut];
  while (!next.isSettled && threads.help()) await betweenTurns();
  return next.road();
}

/** Answers come in, and threads get the next sample, between turns only. */
function betweenTurns(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

function start(batch: Batch, choices: ScoringChoices) {
  const preparer = new SamplePreparer(batch, choices);
  const references = referencesFor(preparer);
  const walk = function* (): Generator<SampleRoad> {
    for (let sample = 0; sample < batch.table.samples.size; sample++)
      yield walkSample(preparer, sample, references);
  };
  return { roads: walk(), intervals: intervalsFor(preparer, references) };
}
