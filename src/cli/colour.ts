import { Chalk, type ChalkInstance } from "chalk";
import type { TextStream } from "./context.ts";

export type ColourChoice = "auto" | "always" | "never";

/**
 * Whether a stream gets colour: the option, then NO_COLOR (when not empty), then FORCE_COLOR, then TERM=dumb,
 * then whether that very stream is a terminal.
 */
export function wantsColour(
  choice: ColourChoice,
  env: Readonly<Record<string, string | undefined>>,
  stream: Pick<TextStream, "isTerminal">,
): boolean {
  if (choice !== "auto") return choice === "always";
  if (env.NO_COLOR !== undefined && env.NO_COLOR !== "") return false;
  if (env.FORCE_COLOR !== undefined && env.FORCE_COLOR !== "") return env.FORCE_COLOR !== "0";
  if (env.TERM === "dumb") return false;
  return stream.isTerminal;
}

/** A painter at the level we decided: the library's own guess does not know NO_COLOR. */
export function painter(isColoured: boolean): ChalkInstance {
  return new Chalk({ level: isColoured ? 1 : 0 });
}
