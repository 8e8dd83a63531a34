import { join } from "node:path";
import { Worker, workerData } from "node:worker_threads";
import { packageRoot } from "./package-root.ts";

/** What a thread of the program is started with. */
interface ThreadStart {
  /** A name of the table in `src/program.ts`. */
  readonly job: string;
  readonly given: unknown;
}

/**
 * What every thread runs: the program as it is built. It is missing where the program runs from its sources (in
 * tests, say) and was never built; the work is then done in the thread that would have started another.
 */
export function programThreadFile(): string {
  return join(packageRoot(), "dist", "thread.cjs");
}

/**
 * Starts a thread.
 *
 * @param job what it is for, a name of the table in `src/program.ts`
 * @param file what it runs
 * @param given what the job reads with `givenToThread`; plain data
 */
export function startThread(job: string, file: string, given?: unknown): Worker {
  const start: ThreadStart = { job, given };
  return new Worker(file, { workerData: start });
}

/** In a thread: what it was given when it was started. */
export function givenToThread(): unknown {
  return (workerData as ThreadStart).given;
}
