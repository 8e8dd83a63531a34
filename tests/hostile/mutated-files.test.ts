import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { readBenchSheets } from "../../src/sheets/bench-sheet.ts";
import { readNamesList } from "../../src/sheets/names-list.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";
import { mutate, numbers } from "../helpers/mutate.ts";
import { demoFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const FILES = ["bench-sheet.csv", "sample-log.csv", "names.csv"];
/** A failure found here becomes a file of tests/hostile/corpus with a test of its own. */
const MUTATIONS = 2000;

describe("damaged demo files", () => {
  it.each(FILES)(
    "%s is read to the end or refused, never with an exception",
    { timeout: 300_000 },
    async (file) => {
      const bytes = readFileSync(join(REPOSITORY, "demo-data", file));
      const next = numbers(file.length);
      let refused = 0;
      for (let turn = 0; turn < MUTATIONS; turn++) {
        const damaged = mutate(bytes, next);
        const input = inputFromBytes(file, damaged);
        const findings = new FindingCollector();
        if (file === "bench-sheet.csv") {
          const sheets = await readBenchSheets([input], {}, findings);
          if (sheets.unreadable || sheets.refused.size > 0) refused++;
          // What is refused has an error that says why, and what has an error is refused.
          expect(findings.count("error") > 0).toBe(sheets.unreadable || sheets.refused.size > 0);
          for (const sampleId of sheets.refused.keys())
            expect(sheets.table.samples.numberOf(sampleId)).toBeTypeOf("number");
        } else if (file === "sample-log.csv") {
          const log = await readSampleLog(input, {}, findings);
          if (log.unreadable || log.refused.size > 0) refused++;
          expect(findings.count("error") > 0).toBe(log.unreadable || log.refused.size > 0);
        } else {
          const names = await readNamesList(input, {}, findings);
          if (names.unreadable) refused++;
          expect(findings.count("error") > 0).toBe(names.unreadable);
        }
        for (const { message } of findings.all) {
          expect(message.length).toBeLessThan(600);
          // biome-ignore lint/suspicious/noControlCharactersInRegex: no finding may carry one to a terminal.
          expect(message).not.toMatch(/[\x00-\x1f\x7f-\x9f]/);
        }
      }
      // Damage that is refused and damage that is harmless both occur, or the test would show nothing.
      expect(refused).toBeGreaterThan(MUTATIONS / 20);
      expect(refused).toBeLessThan(MUTATIONS);
    },
  );

  it("end the program with 0, 1, 3 or 4, without a stack, in less than 2 s and 300 MB", {
    timeout: 300_000,
  }, () => {
    // Written when the process ends: peak memory in KiB and processor time in microseconds.
    const report =
      "import{writeSync}from'node:fs';process.on('exit',()=>{const u=process.resourceUsage();writeSync(3,JSON.stringify([u.maxRSS,u.userCPUTime+u.systemCPUTime]))})";
    const next = numbers(7);
    const exits = new Set<number | null>();
    for (let turn = 0; turn < 30; turn++) {
      const folder = demoFolder();
      const file = FILES[turn % FILES.length] ?? "";
      const path = join(folder, file);
      writeFileSync(path, mutate(readFileSync(path), next));
      const words = ["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"];
      const result = spawnSync(
        process.execPath,
        [join(REPOSITORY, "bin/jartally.js"), ...words, "--reference", "vennaloo-demo"],
        {
          cwd: folder,
          encoding: "utf8",
          timeout: 60_000,
          stdio: ["ignore", "pipe", "pipe", "pipe"],
          env: {
            PATH: process.env.PATH ?? "",
            NODE_OPTIONS: `--import=data:text/javascript,${encodeURIComponent(report)}`,
          },
        },
      );
      exits.add(result.status);
      expect([0, 1, 3, 4]).toContain(result.status);
      expect(`${result.stdout}${result.stderr}`).not.toMatch(/^\s+at .*:\d+:\d+\)?$/m);
      const [memory, time]: number[] = JSON.parse(result.output[3] ?? "[]");
      expect(memory).toBeLessThan(300 * 1024);
      expect(time).toBeLessThan(2_000_000);
    }
    expect(exits.size).toBeGreaterThan(1);
  });
});
