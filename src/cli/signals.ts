/** Called, in order, when the program is interrupted; each must be quick and must not throw. */
const cleanups = new Set<() => void>();

/** Registers a clean-up for an interruption; the function returned takes it back. */
export function onInterrupt(cleanup: () => void): () => void {
  cleanups.add(cleanup);
  return () => cleanups.delete(cleanup);
}

/** On Ctrl-C and on a request to end: clean up, then end by the same signal, as a shell expects. */
export function handleSignals(): void {
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    process.once(signal, () => {
      for (const cleanup of cleanups) cleanup();
      process.kill(process.pid, signal);
    });
  }
}
