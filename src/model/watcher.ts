/**
 * Told how far a piece of work is that may take long.
 *
 * @param what is counted: "samples"
 * @returns what is to be waited for before work goes on; mostly nothing, and then nobody should wait
 */
export type Watcher = (what: string, done: number, all: number) => Promise<void> | undefined;

/** Bytes as a watcher is told of them. */
export function megabytes(bytes: number): number {
  return Math.ceil(bytes / 1_000_000);
}

/** Nobody watches. */
export const unwatched: Watcher = () => undefined;
