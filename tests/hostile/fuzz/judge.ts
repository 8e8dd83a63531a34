import { cpSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { InnerRun } from "../../helpers/in-process.ts";
import { runInside } from "../../helpers/in-process.ts";
import { writeSmallSet } from "../../helpers/small-lab.ts";
import { labFiles } from "./targets.ts";

/** Seconds of processor time that one small file may take; generous, since the machine may be busy. */
const MOST_SECONDS = 5;
const MOST_BYTES = 300 * 2 ** 20;

/** Makes the lab, with a run in it, from which every case starts. */
export async function makeLab(folder: string): Promise<void> {
  mkdirSync(folder, { recursive: true });
  for (const [name, content] of labFiles()) writeFileSync(join(folder, name), content);
  writeSmallSet(folder);
  const words = ["score", "sheet.csv", "--samples", "log.csv", "--reference", "./small-set", "--run", "run"];
  const made = await runInside(words, folder);
  if (made.status !== 0 && made.status !== 3) throw new Error(made.stderr);
}

/** A copy of the lab with one file in the place of its own. */
export function placeCase(lab: string, place: string, file: string | undefined, bytes: Uint8Array): void {
  rmSync(place, { recursive: true, force: true });
  cpSync(lab, place, { recursive: true });
  if (file === undefined) return;
  mkdirSync(dirname(join(place, file)), { recursive: true });
  writeFileSync(join(place, file), bytes);
}

/**
 * Runs a command line on a damaged lab.
 *
 * @returns what is wrong with how it ended, in a few words, or undefined
 */
export async function faultOf(
  words: readonly string[],
  place: string,
  bytes: Uint8Array,
): Promise<string | undefined> {
  const start = process.cpuUsage();
  const before = process.memoryUsage().rss;
  let run: InnerRun;
  try {
    run = await runInside(words, place);
  } catch (error) {
    return `throws ${error instanceof Error ? error.message : String(error)}`;
  }
  const used = process.cpuUsage(start);
  const fault = faultIn(run, words, `${words.join(" ")}${Buffer.from(bytes).toString("latin1")}`);
  if (fault !== undefined) return fault;
  if ((used.user + used.system) / 1e6 > MOST_SECONDS) return "takes too long";
  if (process.memoryUsage().rss - before > MOST_BYTES) return "takes too much memory";
  return undefined;
}

function faultIn(
  { status, stdout, stderr }: InnerRun,
  words: readonly string[],
  given: string,
): string | undefined {
  if (/internal error/.test(stderr)) return `internal error: ${/internal error: (.*)/.exec(stderr)?.[1]}`;
  if (![0, 1, 2, 3, 4].includes(status)) return `ends with ${status}`;
  if (/^\s+at .*:\d+:\d+\)?$/m.test(stderr) && !words.some((word) => word.startsWith("--debug")))
    return "shows a stack";
  const text =
    words.includes("always") || words.some((word) => word.endsWith("=always")) ? "" : stdout + stderr;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: nothing of a file may command the terminal.
  if (/[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]/.test(text)) return "prints a control character";
  const own = ["undefined", "[object ", "NaN", "Infinity"].find((word) => text.includes(word));
  // What a file says may be repeated.
  if (own !== undefined && !given.toLowerCase().includes(own.toLowerCase())) return `prints ${own}`;
  if (status === 3 && stderr === "") return "refuses without a word";
  if ((status === 2 || status === 4) && !/^(jartally: |\S+:\d+:\d+ )/m.test(stderr)) return "gives no reason";
  if (stderr.split("\n").some((line) => line.length > 3000)) return "prints a line without end";
  return undefined;
}
