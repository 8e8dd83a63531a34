import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { packageRoot } from "../../files/package-root.ts";
import type { LeanModel } from "../../scoring/intervals/lean-model.ts";
import type { ResamplingOutcome } from "../../scoring/intervals/resample.ts";
import type { ResamplingTask } from "../../scoring/intervals/task.ts";
import type { ScoringChoices } from "../score-batch.ts";

/** Resamples below which one thread is done before others have started. */
const WORTH_THREADS = 200_000;
const MOST_THREADS = 8;
/** Samples that each thread has before it, so that it never waits for the reader. */
const AHEAD = 8;

/** What goes to a thread. */
export interface ThreadRequest {
  readonly id: number;
  readonly task: ResamplingTask;
  readonly model: LeanModel;
}

/** What comes back from one. */
export interface ThreadAnswer {
  readonly id: number;
  readonly outcome: ResamplingOutcome;
}

/** Threads that resample samples. */
export interface ResamplingThreads {
  /** Samples to hand out before the first answer is waited for. */
  readonly mostWaiting: number;
  run(task: ResamplingTask, model: LeanModel): Promise<ResamplingOutcome>;
  close(): Promise<void>;
}

/**
 * Starts threads; undefined when one is enough. It is undefined as well, without a word, when the program runs from
 * its sources (in tests, say): a thread runs the built `dist/resample-worker.js`, and where that file is missing all
 * is resampled in this thread, slower and with the same result.
 *
 * @param samples of the batch
 */
export function openThreads(choices: ScoringChoices, samples: number): ResamplingThreads | undefined {
  const { resampling, threads = Math.min(MOST_THREADS, availableParallelism()) } = choices;
  const useful = Math.min(threads, samples);
  if (resampling === undefined || useful < 2 || samples * resampling.resamples < WORTH_THREADS)
    return undefined;
  const file = join(packageRoot(), "dist", "resample-worker.js");
  return existsSync(file) ? new Threads(file, useful) : undefined;
}

interface Waiting {
  readonly resolve: (outcome: ResamplingOutcome) => void;
  readonly reject: (error: unknown) => void;
}

class Threads implements ResamplingThreads {
  readonly mostWaiting: number;
  readonly #workers: readonly Worker[];
  readonly #waiting = new Map<number, Waiting>();
  #next = 0;

  constructor(file: string, threads: number) {
    this.mostWaiting = threads * AHEAD;
    this.#workers = Array.from({ length: threads }, () => {
      const worker = new Worker(file);
      worker.on("message", ({ id, outcome }: ThreadAnswer) => {
        this.#waiting.get(id)?.resolve(outcome);
        this.#waiting.delete(id);
      });
      worker.on("error", (error) => {
        for (const { reject } of this.#waiting.values()) reject(error);
      });
      return worker;
    });
  }

  /** Samples go round the threads: which of them works on one changes nothing. */
  run(task: ResamplingTask, model: LeanModel): Promise<ResamplingOutcome> {
    const id = this.#next++;
    const request: ThreadRequest = { id, task, model };
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#workers[id % this.#workers.length]?.postMessage(request);
    });
  }

  async close(): Promise<void> {
    await Promise.all(this.#workers.map((worker) => worker.terminate()));
  }
}
