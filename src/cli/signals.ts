import { removePendingWrites } from "../files/pending-writes.ts";

/** On Ctrl-C and on a request to end: remove half-written files, then end by the same signal, as a shell expects. */
export function handleSignals(): void {
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    process.once(signal, () => {
      removePendingWrites();
      process.kill(process.pid, signal);
    });
  }
}
