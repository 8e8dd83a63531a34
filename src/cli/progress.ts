import type { Watcher } from "../model/watcher.ts";
import type { CommandContext, TextStream } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { noProgressOption, quietOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";

/** A line that says how far the work is; it is written over itself and goes when the work is done. */
export interface Progress {
  readonly watch: Watcher;
  end(): Promise<void>;
}

/** Work that is done sooner needs no line. */
const SILENT_MILLISECONDS = 1000;
/** A line that moves more often cannot be read. */
const STILL_MILLISECONDS = 100;

/** The clock of the line: when it moves, and nothing else, depends on it. */
const runningMilliseconds = () => process.uptime() * 1000;

/**
 * Progress on a terminal; nothing elsewhere, and nothing where the user wants none. What is printed while the line
 * is shown takes it away first, so a failure needs no `end`.
 *
 * @param clock milliseconds since the program started
 */
export function progressLine(
  context: Pick<CommandContext, "stderr">,
  options: OptionValues,
  clock = runningMilliseconds,
): Progress {
  const { stderr } = context;
  const isWanted =
    stderr.isTerminal && options.get(noProgressOption) !== true && options.get(quietOption) !== true;
  return lineOn(isWanted ? stderr : undefined, clock);
}

function lineOn(stderr: TextStream | undefined, clock: () => number): Progress {
  let next = 0;
  let isShown = false;
  const show = async (now: number, text: string): Promise<void> => {
    // Work that never waits for anything would not hear of Ctrl-C before its end.
    await new Promise<void>((resolve) => setImmediate(resolve));
    if (stderr === undefined || now < SILENT_MILLISECONDS) return;
    isShown = true;
    await stderr.status(text);
  };
  return {
    watch(what, done, all) {
      const now = clock();
      if (now < next) return undefined;
      next = now + STILL_MILLISECONDS;
      return show(now, `${what}: ${done} of ${all}`);
    },
    async end() {
      if (isShown) await stderr?.status("");
      isShown = false;
    },
  };
}

/** Progress while rows are written: none where they go to a terminal one by one and would be mixed with the line. */
export function progressBesideRows(
  context: CommandContext,
  options: OptionValues,
  plan: Pick<OutputPlan, "path" | "format">,
  clock = runningMilliseconds,
): Progress {
  const isMixed = context.stdout.isTerminal && plan.path === undefined && plan.format !== "table";
  return isMixed ? lineOn(undefined, clock) : progressLine(context, options, clock);
}

/** The same items one by one; the line moves with each and goes behind the last. */
export async function* watched<Item>(
  items: Iterable<Item> | AsyncIterable<Item>,
  { watch, end }: Progress,
  what: string,
  all: number,
): AsyncGenerator<Item> {
  let done = 0;
  for await (const item of items) {
    done += 1;
    const pause = watch(what, done, all);
    // To wait for nothing takes time too, and there are many items.
    if (pause !== undefined) await pause;
    yield item;
  }
  await end();
}
