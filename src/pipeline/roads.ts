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
  const samples = batch.table.samples.size;
  const threads = intervals === undefined ? undefined : await threadsFor(choices, samples);
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

async function* inThreads(
  roads: Iterable<SampleRoad>,
  intervals: BatchIntervals,
  threads: ResamplingThreads,
): AsyncGenerator<SampleRoad> {
  const waiting: (() => Promise<SampleRoad>)[] = [];
  for (const road of roads) {
    const prepared = intervals.prepare(road);
    if (prepared?.model === undefined)
      waiting.push(async () => intervals.complete(road, prepared, prepared?.run()));
    else {
      const outcome = threads.run(prepared.task, prepared.model);
      // A failure is met when its turn comes.
      outcome.catch(() => undefined);
      waiting.push(async () => intervals.complete(road, prepared, await outcome));
    }
    // Answers come in, and threads get the next sample, between turns only.
    await new Promise<void>((resolve) => setImmediate(resolve));
    if (waiting.length < threads.mostWaiting) continue;
    const first = waiting.shift();
    if (first !== undefined) yield await first();
  }
  for (const next of waiting) yield await next();
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
