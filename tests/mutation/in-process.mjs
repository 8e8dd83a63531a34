// Runs tests for the mutation runner within one process: the tests and the mutated program are loaded once, and
// one mutant after the other is switched on. A run takes milliseconds, so every mutant of a folder can be tried.
// Good for tests that are synchronous and of a program without state between calls: those of the pure folders.
import { existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { Script } from "node:vm";
import { INSTRUMENTER_CONSTANTS } from "@stryker-mutator/api/core";
import { PluginKind } from "@stryker-mutator/api/plugin";
import { DryRunStatus, MutantRunStatus, TestStatus } from "@stryker-mutator/api/test-runner";
import { build } from "esbuild";
import { beginFile, met } from "./few-words.mjs";

const STAND_INS = { vitest: "few-words.mjs", "fast-check": "few-examples.mjs" };
const PURE = ["model", "findings", "names", "taxa", "subsample", "metrics", "scoring", "quality"];
/** Milliseconds; a slower test (draws by the hundred thousand) is broken off and not run for every mutant. */
const SLOW = 1500;

/** A folder is judged by its own tests and its checks against the outside alone. */
function testFiles() {
  const folders = process.env.MUTATED_FOLDER === undefined ? PURE : [process.env.MUTATED_FOLDER];
  return [...folders.flatMap((folder) => [folder, `published/${folder}`]), "published/vegan"]
    .map((folder) => `tests/${folder}`)
    .filter((folder) => existsSync(folder))
    .flatMap((folder) => readdirSync(folder, { recursive: true }).map((name) => join(folder, name)))
    .filter((file) => file.endsWith(".test.ts"))
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

async function loadTests() {
  const files = testFiles();
  const outdir = resolve("in-process-tests");
  mkdirSync(outdir, { recursive: true });
  await build({
    // The copy with the mutants in it, into which the mutation runner has moved by now.
    absWorkingDir: process.cwd(),
    entryPoints: files,
    outdir,
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
  for (const file of files) {
    beginFile(file);
    await import(pathToFileURL(resolve(outdir, file.replace(/\.ts$/, ".mjs"))).href);
  }
}

const CALL = new Script("globalThis.testAtHand()");

/** Runs a test and breaks it off when it does not come to an end. */
function runWithin(test, timeout) {
  globalThis.testAtHand = test;
  CALL.runInThisContext({ timeout });
}

function messageOf(error) {
  return error instanceof Error ? error.message : String(error);
}

class InProcessRunner {
  #state = globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] ?? {};
  #loaded;
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
      const result = this.#run(test, SLOW);
      state.currentTestId = undefined;
      if (result.isEndless) {
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

  async mutantRun({ testFilter, activeMutant, hitLimit, mutantActivation }) {
    const state = this.#state;
    if (mutantActivation === "static") state.activeMutant = activeMutant.id;
    await this.#load();
    const tests = testFilter?.flatMap((id) => met.get(id) ?? []) ?? [...met.values()];
    tests.sort((a, b) => (this.#times.get(a.id) ?? 0) - (this.#times.get(b.id) ?? 0));
    state.hitCount = 0;
    state.hitLimit = hitLimit;
    state.activeMutant = activeMutant.id;
    const failed = this.#firstFailure(tests);
    state.activeMutant = undefined;
    state.hitLimit = undefined;
    if (failed?.isEndless || (hitLimit !== undefined && state.hitCount > hitLimit))
      return { status: MutantRunStatus.Timeout };
    if (failed === undefined) return { status: MutantRunStatus.Survived, nrOfTests: tests.length };
    // A mutant may leave something changed that the tests share; then a test fails without it, too.
    const again = this.#run(met.get(failed.id));
    if (again.status === TestStatus.Failed && mutantActivation !== "static")
      throw new Error(`${failed.id} fails after mutant ${activeMutant.id}: ${again.failureMessage}`);
    return {
      status: MutantRunStatus.Killed,
      killedBy: [failed.id],
      failureMessage: failed.failureMessage,
      nrOfTests: failed.nrOfTests,
    };
  }

  #load() {
    this.#loaded ??= loadTests();
    return this.#loaded;
  }

  #firstFailure(tests) {
    for (const [at, test] of tests.entries()) {
      const usual = this.#times.get(test.id) ?? 0;
      const result = this.#run(test, Math.ceil(1500 + 5 * usual));
      if (result.status === TestStatus.Failed) return { ...result, nrOfTests: at + 1 };
    }
    return undefined;
  }

  #run({ id, name, file, run }, timeout = 600_000) {
    const start = performance.now();
    const result = () => ({ id, name, fileName: resolve(file), timeSpentMs: performance.now() - start });
    try {
      runWithin(run, timeout);
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
