import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { REPOSITORY } from "./run-jartally.ts";

/** What somebody at a terminal saw of a command. */
export interface TerminalRun {
  readonly status: number | null;
  /** Every line that was shown for a while and taken away. */
  readonly passing: readonly string[];
  /** The lines that are on the screen in the end. */
  readonly screen: readonly string[];
}

/** A clock a thousand times as fast, so that short work lasts as long as long work does. */
const FAST_CLOCK = "const { uptime } = process; process.uptime = () => 1 + uptime() * 1000;";

const quoted = (word: string) => `'${word.replaceAll("'", `'\\''`)}'`;

/**
 * Runs the built program on a terminal of its own (of 200 columns) with a fast clock.
 *
 * @param stdout a file that gets standard output in place of the terminal
 */
export function runOnTerminal(
  words: readonly string[],
  cwd: string,
  { stdout }: { readonly stdout?: string } = {},
): TerminalRun {
  const clock = `data:text/javascript,${encodeURIComponent(FAST_CLOCK)}`;
  const program = [process.execPath, "--import", clock, join(REPOSITORY, "bin/jartally.js"), ...words];
  const line = `${program.map(quoted).join(" ")}${stdout === undefined ? "" : ` > ${quoted(stdout)}`}`;
  const result = spawnSync("script", ["-qec", `stty cols 200; ${line}`, "/dev/null"], {
    cwd,
    env: {
      PATH: process.env.PATH ?? "",
      TZ: "UTC",
      LC_ALL: "C",
      TERM: "xterm",
      NO_COLOR: "1",
      SHELL: "/bin/sh",
    },
    encoding: "utf8",
    stdio: ["ignore", "pipe", "pipe"],
    timeout: 60_000,
  });
  return { status: result.status, ...shownBy(result.stdout) };
}

/** Plays what was written to a terminal: line feeds, returns to the start of the line, and its deletion. */
function shownBy(text: string): Pick<TerminalRun, "passing" | "screen"> {
  const passing: string[] = [];
  const screen: string[] = [];
  for (const line of text.split("\r\n")) {
    const shown = line.split("\r\x1b[K");
    passing.push(...shown.slice(0, -1).filter((one) => one !== ""));
    screen.push(shown.at(-1) ?? "");
  }
  return { passing, screen };
}
