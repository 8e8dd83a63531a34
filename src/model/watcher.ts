/**
 * Told how far a piece of work is that may take long.
 *
 * @param what is counted: "samples"
 */
export type Watcher = (what: string, done: number, all: number) => Promise<void>;

/** Bytes as a watcher is told of them. */
export function megabytes(bytes: number): number {
  return Math.ceil(bytes / 1_000_000);
}

/** Nobody watches. */
export const unwatched: Watcher = async () => {};
