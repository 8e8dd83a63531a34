import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { noProgressOption, quietOption } from "./options/messages.ts";

/** A line that says how far the work is; it is written over itself and goes when the work is done. */
export interface Progress {
  step(done: number, all: number): Promise<void>;
  end(): Promise<void>;
}

/** Steps in which the line moves: more would only cost time. */
const STEPS = 100;

/** Progress on a terminal; nothing elsewhere, and nothing where the user wants none. */
export function progressLine(
  context: Pick<CommandContext, "stderr">,
  options: OptionValues,
  what: string,
): Progress {
  const { stderr } = context;
  const isShown =
    stderr.isTerminal && options.get(noProgressOption) !== true && options.get(quietOption) !== true;
  let shown = 0;
  return {
    async step(done, all) {
      if (!isShown || all === 0) return;
      const now = Math.floor((done * STEPS) / all);
      if (now === shown) return;
      shown = now;
      await stderr.write(`\r\x1b[K${what}: ${done} of ${all}`);
    },
    async end() {
      if (shown > 0) await stderr.write("\r\x1b[K");
    },
  };
}
