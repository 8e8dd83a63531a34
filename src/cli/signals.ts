import { removePendingWrites } from "../files/pending-writes.ts";
import type { TextStream } from "./context.ts";

/** On Ctrl-C and on a request to end: remove half-written files and the line of progress, then end by the same signal, as a shell expects. */
export function handleSignals(stderr: TextStream): void {
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    process.once(signal, () => {
      removePendingWrites();
      // A terminal has taken it when this returns.
      void stderr.status("");
      process.kill(process.pid, signal);
    });
  }
}
