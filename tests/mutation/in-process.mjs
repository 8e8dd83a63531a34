// Runs tests for the mutation runner within one process: the tests and the mutated program are loaded once, and
// one mutant after the other is switched on. A run takes milliseconds, so every mutant of a folder can be tried.
// Good for tests of a program without state between calls: those of the pure folders.
import { cpSync, existsSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { Script } from "node:vm";
import { INSTRUMENTER_CONSTANTS } from "@stryker-mutator/api/core";
import { PluginKind } from "@stryker-mutator/api/plugin";
import { DryRunStatus, MutantRunStatus, TestStatus } from "@stryker-mutator/api/test-runner";
import { build } from "esbuild";
import { beginFile, met } from "./few-words.mjs";
import { LEFT_OUT, testFoldersOf } from "./test-folders.mjs";

const STAND_INS = { vitest: "few-words.mjs", "fast-check": "few-examples.mjs" };
const PURE = ["model", "findings", "names", "taxa", "subsample", "metrics", "scoring", "quality"];
/** Milliseconds; a slower test (draws by the hundred thousand) is broken off and not run for every mutant. */
const SLOW = 1500;

/** What is mutated: the pure folders, unless the one who starts the runner names one. */
const FOLDERS = process.env.MUTATED_FOLDER === undefined ? PURE : [process.env.MUTATED_FOLDER];

/** A folder is judged by its own tests, its checks against the outside, and those that go through it. */
function testFiles() {
  return [...new Set(FOLDERS.flatMap(testFoldersOf)), "published/vegan"]
    .map((folder) => `tests/${folder}`)
    .filter((folder) => existsSync(folder))
    .flatMap((folder) => readdirSync(folder, { recursive: true }).map((name) => join(folder, name)))
    .filter((file) => file.endsWith(".test.ts") && !LEFT_OUT.includes(file))
    .sort();
}

const keepPlaces = {
  name: "keep-places",
  setup(building) {
    building.onResolve({ filter: /^(vitest|fast-check)$/ }, ({ path }) => ({
      path: new URL(STAND_INS[path], import.meta.url).href,
      external: true,
    }));
    building.onLoad({ filter: /\.ts$/ }, ({ path }) => ({
      loader: "ts",
      contents: readFileSync(path, "utf8")
        .replaceAll("import.meta.url", JSON.stringify(pathToFileURL(path).href))
        .replaceAll("import.meta.dirname", JSON.stringify(dirname(path))),
    }));
  },
};

const BUILT = "in-process-tests";

async function buildTests(files) {
  await build({
    // The copy with the mutants in it, into which the mutation runner has moved by now.
    absWorkingDir: process.cwd(),
    entryPoints: files,
    outdir: BUILT,
    outbase: ".",
    outExtension: { ".js": ".mjs" },
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "node",
    packages: "external",
    logLevel: "error",
    define: { JARTALLY_VERSION: JSON.stringify("0.0.0") },
    plugins: [keepPlaces],
  });
}

/** Loads all tests afresh: each time from a folder of its own, since a module is loaded once from its place. */
async function loadTests(turn) {
  const files = testFiles();
  if (turn === 1) await buildTests(files);
  const folder = resolve(`${BUILT}-${turn}`);
  cpSync(BUILT, folder, { recursive: true });
  met.clear();
  for (const file of files) {
    beginFile(file);
    await import(pathToFileURL(resolve(folder, file.replace(/\.ts$/, ".mjs"))).href);
  }
  rmSync(folder, { recursive: true });
}

const CALL = new Script("globalThis.testAtHand()");

/**
 * Runs a test and breaks it off when it does not come to an end; gives back what it has to be waited for. After
 * the first wait only the number of hits of a mutant, or the mutation runner's own time limit, breaks it off.
 */
function runWithin(test, timeout) {
  globalThis.testAtHand = test;
  return CALL.runInThisContext({ timeout });
}

function messageOf(error) {
  return error instanceof Error ? error.message : String(error);
}

class InProcessRunner {
  #state = globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] ?? {};
  #loaded;
  #turn = 0;
  /** Milliseconds of each test as it ran without a mutant. */
  #times = new Map();

  constructor() {
    globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] = this.#state;
  }

  capabilities() {
    return { reloadEnvironment: false };
  }

  async dryRun() {
    const state = this.#state;
    await this.#load();
    const tests = [];
    for (const test of met.values()) {
      state.currentTestId = test.id;
      const result = await this.#run(test, SLOW);
      state.currentTestId = undefined;
      if (result.isEndless || result.timeSpentMs > SLOW) {
        // A mutant that no test meets but slow ones counts as not covered.
        delete state.mutantCoverage?.perTest[test.id];
        continue;
      }
      this.#times.set(test.id, result.timeSpentMs);
      tests.push(result);
    }
    const { mutantCoverage } = state;
    if (mutantCoverage === undefined)
      return { status: DryRunStatus.Error, errorMessage: "no test met a mutant" };
    return { status: DryRunStatus.Complete, tests, mutantCoverage };
  }

  async mutantRun(options) {
    if (options.mutantActivation === "static") this.#state.activeMutant = options.activeMutant.id;
    await this.#load();
    const first = await this.#attempt(options);
    if (first.isClean) return first.result;
    // A mutant, this one or one before it, left something changed that the tests share.
    await this.#reload();
    const second = await this.#attempt(options);
    if (!second.isClean) await this.#reload();
    return second.result;
  }

  async #attempt({ testFilter, activeMutant, hitLimit }) {
    const state = this.#state;
    const tests = testFilter?.flatMap((id) => met.get(id) ?? []) ?? [...met.values()];
    tests.sort((a, b) => (this.#times.get(a.id) ?? 0) - (this.#times.get(b.id) ?? 0));
    state.hitCount = 0;
    state.hitLimit = hitLimit;
    state.activeMutant = activeMutant.id;
    const failed = await this.#firstFailure(tests);
    const isOverLimit = hitLimit !== undefined && state.hitCount > hitLimit;
    state.activeMutant = undefined;
    state.hitLimit = undefined;
    if (failed === undefined)
      return { isClean: true, result: { status: MutantRunStatus.Survived, nrOfTests: tests.length } };
    const again = await this.#run(met.get(failed.id));
    const isClean = again.status === TestStatus.Success;
    if (failed.isEndless || isOverLimit) return { isClean, result: { status: MutantRunStatus.Timeout } };
    const { id, failureMessage, nrOfTests } = failed;
    return { isClean, result: { status: MutantRunStatus.Killed, killedBy: [id], failureMessage, nrOfTests } };
  }

  #load() {
    this.#loaded ??= this.#reload();
    return this.#loaded;
  }

  #reload() {
    this.#turn++;
    return loadTests(this.#turn);
  }

  async #firstFailure(tests) {
    for (const [at, test] of tests.entries()) {
      const usual = this.#times.get(test.id) ?? 0;
      const result = await this.#run(test, Math.ceil(1500 + 5 * usual));
      if (result.status === TestStatus.Failed) return { ...result, nrOfTests: at + 1 };
    }
    return undefined;
  }

  async #run({ id, name, file, run }, timeout = 600_000) {
    const start = performance.now();
    const result = () => ({ id, name, fileName: resolve(file), timeSpentMs: performance.now() - start });
    try {
      await runWithin(run, timeout);
      return { ...result(), status: TestStatus.Success };
    } catch (error) {
      const isEndless = error?.code === "ERR_SCRIPT_EXECUTION_TIMEOUT";
      return { ...result(), status: TestStatus.Failed, failureMessage: messageOf(error), isEndless };
    }
  }
}

export const strykerPlugins = [
  { kind: PluginKind.TestRunner, name: "in-process", injectableClass: InProcessRunner },
];
