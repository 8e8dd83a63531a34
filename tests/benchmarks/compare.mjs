// Runs programs in turn (A B C A B C ...), so that a busy machine slows all of them, and prints medians of whole
// processes with their ratios to the first. Needs /usr/bin/time (GNU time).
import { spawnSync } from "node:child_process";

/** Seconds, processor seconds and peak memory of one run, as the operating system counts them. */
function once(command, folder) {
  const result = spawnSync("/usr/bin/time", ["-f", "%e %U %S %M", ...command], {
    cwd: folder,
    encoding: "utf8",
    stdio: ["ignore", "ignore", "pipe"],
    maxBuffer: 1 << 28,
  });
  const [wall, user, system, kilobytes] = result.stderr.trim().split("\n").at(-1).split(" ").map(Number);
  return { wall, processor: user + system, mebibytes: kilobytes / 1024 };
}

function median(values) {
  return values.toSorted((a, b) => a - b)[values.length >> 1];
}

/**
 * Runs all commands in turn and prints a line for each; ratios are to the first.
 *
 * @param commands pairs of a name and the words of a command
 * @param folder where they run
 */
export function compare(commands, folder, runs) {
  const measured = new Map(commands.map(([name]) => [name, []]));
  for (let run = 0; run <= runs; run++)
    for (const [name, command] of commands) {
      const one = once(command, folder);
      // The first round warms the caches of the disk.
      if (run > 0) measured.get(name).push(one);
    }
  let base;
  for (const [name, all] of measured) {
    const wall = median(all.map((one) => one.wall));
    const processor = median(all.map((one) => one.processor));
    base ??= { wall, processor };
    console.log(
      [
        name.padEnd(40),
        `${wall.toFixed(2)} s`.padStart(9),
        `x ${(wall / base.wall).toFixed(2)}`.padStart(8),
        `${processor.toFixed(2)} s processor`.padStart(18),
        `x ${(processor / base.processor).toFixed(2)}`.padStart(8),
        `${median(all.map((one) => one.mebibytes)).toFixed(0)} MiB`.padStart(9),
      ].join(" "),
    );
  }
}
