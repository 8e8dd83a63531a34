import type { Program } from "./start/load-program.ts";

// The program as it is built into one file: what the command line runs, and what its threads run.
export { main } from "./cli/main.ts";

/** What threads are started for; each module serves whoever started it as soon as it is loaded. */
const JOBS: Readonly<Record<string, () => Promise<unknown>>> = {
  hash: () => import("./runs/checksum-worker.ts"),
  resample: () => import("./pipeline/intervals/resample-worker.ts"),
};

/** Does the job that a thread was started for. */
export async function runThread(job: string): Promise<void> {
  await JOBS[job]?.();
}

/** Fails to compile when what is exported is not what is started. */
export type Started = typeof import("./program.ts") extends Program ? true : never;
