import { DEFAULT_SEED } from "../subsample/seed.ts";
import type { CommandContext } from "./context.ts";

/** The seed in force: as given, a fresh one for `random`, or the documented default. */
export function settleSeed(given: string | undefined, context: CommandContext): string {
  if (given === "random") return String(context.drawSeed());
  return given ?? DEFAULT_SEED;
}
