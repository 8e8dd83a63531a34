import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Draw } from "./mutations.ts";
import { damaged, oddWords } from "./mutations.ts";
import { TARGETS } from "./targets.ts";

/** One case: a damaged file and a command, or an odd command line. */
export interface FuzzCase {
  readonly target: string;
  /** Undefined when no file is damaged. */
  readonly file: string | undefined;
  readonly bytes: Uint8Array;
  readonly words: readonly string[];
}

/** Target whose cases are command lines. */
export const COMMAND_LINES = "command-line";

/** A case by chance: a command line in one of eight, a damaged file otherwise. */
export function nextCase(lab: string, known: readonly string[], draw: Draw): FuzzCase {
  if (draw(8) === 0) {
    const words = oddWords(known, draw);
    return { target: COMMAND_LINES, file: undefined, bytes: Buffer.from(JSON.stringify(words)), words };
  }
  const target = TARGETS[draw(TARGETS.length)];
  const words = target?.commands[draw(target.commands.length)] ?? [];
  const file = target?.file ?? "";
  const bytes = damaged(readFileSync(join(lab, file)), file, draw);
  return { target: target?.name ?? "", file, bytes, words };
}

/** The cases that a kept file stands for; its name starts with the target: `log--no-day.csv`. */
export function keptCases(name: string, bytes: Uint8Array): FuzzCase[] {
  const wanted = name.slice(0, name.indexOf("--"));
  if (wanted === COMMAND_LINES) {
    const words = JSON.parse(Buffer.from(bytes).toString("utf8")) as string[];
    return [{ target: wanted, file: undefined, bytes, words }];
  }
  const target = TARGETS.find((one) => one.name === wanted);
  if (target === undefined) throw new Error(`no target is called ${wanted}`);
  return target.commands.map((words) => ({ target: wanted, file: target.file, bytes, words }));
}
