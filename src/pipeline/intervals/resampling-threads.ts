import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import type { Worker } from "node:worker_threads";
import { programThreadFile, startThread } from "../../files/program-thread.ts";
import type { LeanModel } from "../../scoring/intervals/lean-model.ts";
import type { ResamplingOutcome } from "../../scoring/intervals/resample.ts";
import type { ResamplingTask } from "../../scoring/intervals/task.ts";
import type { ScoringChoices } from "../score-batch.ts";

/** Resamples below which one thread is done before others have started. */
const WORTH_THREADS = 200_000;
const MOST_THREADS = 8;
/** Samples for each thread that are made ready before the first answer is waited for. */
const AHEAD = 16;
/** Samples that lie before a thread, so that it need not wait for the next; more would wait for a slow one at the end. */
const BEFORE_A_THREAD = 4;

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

/** Threads that resample samples, this one among them. */
export interface ResamplingThreads {
  /** Samples to hand out before the first answer is waited for. */
  readonly mostWaiting: number;
  /** @param here resamples the sample in this thread, with the same result */
  run(task: ResamplingTask, model: LeanModel, here: () => ResamplingOutcome): Promise<ResamplingOutcome>;
  /** Resamples in this thread the next sample that no other one was given; false when there is none. */
  help(): boolean;
  close(): Promise<void>;
}

/**
 * Starts threads; undefined when one is enough. It is undefined as well, without a word, when the program runs from
 * its sources (in tests, say): a thread runs the built `dist/thread.cjs`, and where that file is missing all
 * is resampled in this thread, slower and with the same result.
 *
 * @param samples of the batch
 * @param file what a thread runs
 */
export function openThreads(
  choices: Pick<ScoringChoices, "resampling" | "threads">,
  samples: number,
  file = programThreadFile(),
): ResamplingThreads | undefined {
  const { resampling, threads = Math.min(MOST_THREADS, availableParallelism()) } = choices;
  const useful = Math.min(threads, samples);
  if (resampling === undefined || useful < 2 || samples * resampling.resamples < WORTH_THREADS)
    return undefined;
  return existsSync(file) ? new Threads(file, useful) : undefined;
}

interface Waiting {
  readonly request: ThreadRequest;
  readonly here: () => ResamplingOutcome;
  readonly resolve: (outcome: ResamplingOutcome) => void;
  readonly reject: (error: unknown) => void;
}

/** One thread and the samples that it was given and has not answered, by number. */
interface Thread {
  readonly worker: Worker;
  readonly given: Map<number, Waiting>;
}

class Threads implements ResamplingThreads {
  readonly mostWaiting: number;
  readonly #threads: readonly Thread[];
  /** Samples that no thread was given yet, the first one first. */
  readonly #queue: Waiting[] = [];
  #next = 0;
  /** Set when a thread is lost: nothing that is given to it would ever be answered. */
  #failure: { readonly error: unknown } | undefined;

  constructor(file: string, threads: number) {
    this.mostWaiting = threads * AHEAD;
    // Who waits for the others works too.
    this.#threads = Array.from({ length: threads - 1 }, () => {
      const thread: Thread = { worker: startThread("resample", file), given: new Map() };
      thread.worker.on("message", ({ id, outcome }: ThreadAnswer) => {
        thread.given.get(id)?.resolve(outcome);
        thread.given.delete(id);
        this.#give();
      });
      thread.worker.on("error", (error) => this.#fail(error));
      return thread;
    });
  }

  /** Whichever thread has the least before it works on a sample; which one that is changes nothing. */
  run(task: ResamplingTask, model: LeanModel, here: () => ResamplingOutcome): Promise<ResamplingOutcome> {
    if (this.#failure !== undefined) return Promise.reject(this.#failure.error);
    const request: ThreadRequest = { id: this.#next++, task, model };
    return new Promise((resolve, reject) => {
      this.#queue.push({ request, here, resolve, reject });
      this.#give();
    });
  }

  help(): boolean {
    const waiting = this.#queue.shift();
    if (waiting === undefined) return false;
    try {
      waiting.resolve(waiting.here());
    } catch (error) {
      waiting.reject(error);
    }
    return true;
  }

  #give(): void {
    while (this.#queue.length > 0) {
      const [first, ...others] = this.#threads as [Thread, ...Thread[]];
      const thread = others.reduce((least, one) => (one.given.size < least.given.size ? one : least), first);
      if (thread.given.size >= BEFORE_A_THREAD) return;
      const waiting = this.#queue.shift() as Waiting;
      thread.given.set(waiting.request.id, waiting);
      thread.worker.postMessage(waiting.request);
    }
  }

  #fail(error: unknown): void {
    this.#failure = { error };
    for (const { reject } of this.#queue.splice(0)) reject(error);
    for (const { given } of this.#threads) for (const { reject } of given.values()) reject(error);
  }

  async close(): Promise<void> {
    await Promise.all(this.#threads.map(({ worker }) => worker.terminate()));
  }
}
