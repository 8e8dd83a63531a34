import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Script } from "node:vm";

/** What the built program offers those who start it: `src/program.ts`. */
export interface Program {
  /** Runs a command line. */
  main(words: readonly string[]): Promise<void>;
  /** Does the job that a thread was started for, by its name. */
  runThread(job: string): Promise<void>;
}

/** The program in one file, as `esbuild.config.mjs` leaves it: a function of what a CommonJS module is given. */
type Bundle = (
  module: { exports: unknown },
  exports: unknown,
  require: NodeJS.Require,
  folder: string,
) => void;

/** The bundle and the code that V8 made of it when the program was built. */
export interface ProgramFiles {
  readonly bundle: string;
  readonly cache: string;
}

/** The files of the built program in its folder. */
export function programFiles(folder: string): ProgramFiles {
  return { bundle: join(folder, "program.cjs"), cache: join(folder, "program.cache") };
}

/**
 * The bundle as a script. What V8 compiled when the program was built is taken over from the cache, which saves
 * most of the time in which a short command starts. It is a cache and nothing else: where it is missing, broken, or
 * was made of another bundle, by another version or with other flags of V8, V8 compiles the bundle as it always does.
 */
export function programScript({ bundle, cache }: ProgramFiles): Script {
  const content = readFileSync(bundle);
  const cachedData = unsealed(content, contentOf(cache));
  // The build writes whatever is not ASCII as an escape.
  const source = content.toString("latin1");
  return new Script(source, { filename: bundle, ...(cachedData === undefined ? {} : { cachedData }) });
}

/**
 * What is kept of code that V8 compiled, with a digest in front. V8 looks at no more than its own version, its flags
 * and the lengths: it would run the code of another bundle that is as long, or crash where a byte is wrong.
 */
export function sealed(bundle: Uint8Array, compiled: Uint8Array): Buffer {
  return Buffer.concat([digestOf(bundle, compiled), compiled]);
}

/** The compiled code, where it is what was made of this bundle. */
function unsealed(bundle: Uint8Array, cache: Buffer | undefined): Buffer | undefined {
  const compiled = cache?.subarray(DIGEST_BYTES);
  if (cache === undefined || compiled === undefined) return undefined;
  return digestOf(bundle, compiled).equals(cache.subarray(0, DIGEST_BYTES)) ? compiled : undefined;
}

const DIGEST_BYTES = 32;

function digestOf(bundle: Uint8Array, compiled: Uint8Array): Buffer {
  return createHash("sha256").update(bundle).update(compiled).digest();
}

/**
 * Runs the bundle, in the main thread or in another one, and gives what it offers.
 *
 * @param folder where the built program lies
 */
export function programOf(script: Script, folder: string): Program {
  const module = { exports: {} };
  const bundle: Bundle = script.runInThisContext();
  bundle(module, module.exports, require, folder);
  return module.exports as Program;
}

/** Loads the built program that lies in the folder of the running file. */
export function loadProgram(): Program {
  return programOf(programScript(programFiles(__dirname)), __dirname);
}

function contentOf(file: string): Buffer | undefined {
  try {
    return readFileSync(file);
  } catch {
    return undefined;
  }
}
