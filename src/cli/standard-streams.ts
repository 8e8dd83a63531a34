import { randomInt } from "node:crypto";
import type { CommandContext, TextStream } from "./context.ts";

/** The context of a real run: the standard streams, the environment, the working folder. */
export function processContext(): CommandContext {
  return {
    stdin: Object.assign(standardInput(), { isTerminal: process.stdin.isTTY === true }),
    stdout: textStream(process.stdout),
    stderr: textStream(process.stderr),
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

function standardInput(): AsyncIterable<Uint8Array> {
  return { [Symbol.asyncIterator]: () => process.stdin[Symbol.asyncIterator]() };
}

/** A reader that has gone away (`| head`) is no error: what is written after that is let go. */
function textStream(stream: NodeJS.WriteStream): TextStream {
  let closed = false;
  let failure: Error | undefined;
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE" || error.code === "ERR_STREAM_DESTROYED") closed = true;
    else failure = error;
  });
  return {
    write: (text) =>
      new Promise((resolve, reject) => {
        if (failure !== undefined) return reject(failure);
        if (closed || text === "") return resolve();
        stream.write(text, (error) => {
          const code = (error as NodeJS.ErrnoException | null | undefined)?.code;
          if (error === null || error === undefined || code === "EPIPE" || code === "ERR_STREAM_DESTROYED")
            resolve();
          else reject(error);
        });
      }),
    isTerminal: stream.isTTY === true,
    width: stream.isTTY === true && stream.columns > 20 ? stream.columns : 80,
    get isClosed() {
      return closed;
    },
  };
}
