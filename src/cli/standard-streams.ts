import { randomInt } from "node:crypto";
import type { CommandContext, TextStream } from "./context.ts";

/** The context of a real run: the standard streams, the environment, the working folder. */
export function processContext(): CommandContext {
  const screen = { hasStatus: false };
  return {
    stdin: standardInput(),
    stdout: textStream(process.stdout, screen),
    stderr: textStream(process.stderr, screen),
    env: process.env,
    cwd: process.cwd(),
    today: localDay,
    drawSeed: () => randomInt(0, 2 ** 47),
  };
}

function localDay(): string {
  const now = new Date();
  const two = (part: number) => String(part).padStart(2, "0");
  return `${String(now.getFullYear()).padStart(4, "0")}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** Opened when something reads from it. */
function standardInput(): AsyncIterable<Uint8Array> {
  return { [Symbol.asyncIterator]: () => process.stdin[Symbol.asyncIterator]() };
}

/** To the start of the line, and everything behind that away. */
const CLEAR_LINE = "\r\x1b[K";

/**
 * A reader that has gone away (`| head`) is no error: what is written after that is let go.
 *
 * @param screen what the streams that are terminals share
 */
function textStream(stream: NodeJS.WriteStream, screen: { hasStatus: boolean }): TextStream {
  const isTerminal = stream.isTTY === true;
  let closed = false;
  let failure: Error | undefined;
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE" || error.code === "ERR_STREAM_DESTROYED") closed = true;
    else failure = error;
  });
  const put = (text: string): Promise<void> =>
    new Promise((resolve, reject) => {
      if (failure !== undefined) return reject(failure);
      if (closed || text === "") return resolve();
      stream.write(text, (error) => {
        const code = (error as NodeJS.ErrnoException | null | undefined)?.code;
        if (error === null || error === undefined || code === "EPIPE" || code === "ERR_STREAM_DESTROYED")
          resolve();
        else reject(error);
      });
    });
  return {
    write(text) {
      if (text === "" || !isTerminal || !screen.hasStatus) return put(text);
      screen.hasStatus = false;
      return put(CLEAR_LINE + text);
    },
    async status(line) {
      if (!isTerminal || (line === "" && !screen.hasStatus)) return;
      screen.hasStatus = line !== "";
      await put(CLEAR_LINE + line);
    },
    isTerminal,
    width: isTerminal && stream.columns > 20 ? stream.columns : 80,
    get isClosed() {
      return closed;
    },
  };
}
