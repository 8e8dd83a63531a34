import type { InputFile } from "../files/input.ts";
import { throughChunks } from "../files/input.ts";
import { megabytes } from "../model/watcher.ts";
import type { Progress } from "./progress.ts";

/**
 * The same inputs, whose reading moves a line of progress that goes with the end of the last. Where the size of one
 * is not known, as that of a pipe, there is none.
 */
export function watchedInputs(inputs: readonly InputFile[], { watch, end }: Progress): readonly InputFile[] {
  const sizes = inputs.map(({ size }) => size);
  if (sizes.includes(undefined)) return inputs;
  const all = sizes.reduce<number>((sum, size) => sum + (size ?? 0), 0);
  let read = 0;
  let open = inputs.length;
  const pass = async function* (chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
    for await (const chunk of chunks) {
      read += chunk.length;
      await watch("megabytes read", megabytes(read), megabytes(all));
      yield chunk;
    }
    open -= 1;
    if (open === 0) await end();
  };
  return inputs.map((input) => throughChunks(input, pass));
}
