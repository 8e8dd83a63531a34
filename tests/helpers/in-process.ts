import { runWords } from "../../src/cli/main.ts";

/** What a command line run inside the test gave. */
export interface InnerRun {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/**
 * Runs a command line in this process, which is quicker than a new one and sees what a test mocks.
 *
 * @param columns width of the terminal that standard output is; undefined: a pipe
 */
export async function runInside(
  words: readonly string[],
  cwd: string,
  stdin: Uint8Array = new Uint8Array(),
  columns?: number,
): Promise<InnerRun> {
  const written = { stdout: "", stderr: "" };
  const stream = (name: "stdout" | "stderr") => ({
    async write(text: string) {
      written[name] += text;
    },
    async status() {},
    isTerminal: name === "stdout" && columns !== undefined,
    width: columns ?? 80,
    isClosed: false,
  });
  const status = await runWords(words, {
    stdin: {
      async *[Symbol.asyncIterator]() {
        if (stdin.length > 0) yield stdin;
      },
    },
    stdout: stream("stdout"),
    stderr: stream("stderr"),
    env: {},
    cwd,
    today: () => "2024-07-01",
    drawSeed: () => 7,
  });
  return { status, ...written };
}
