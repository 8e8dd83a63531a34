// The long form: npm run fuzz -- MINUTES [SEED]. What is found is added to corpus/, where the tests run it again.
import { fork } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { extname, join, resolve } from "node:path";
import { build } from "esbuild";

const repository = resolve(import.meta.dirname, "../../..");
const corpus = join(import.meta.dirname, "corpus");
const minutes = Number(process.argv[2] ?? 5);
const { version } = JSON.parse(readFileSync(join(repository, "package.json"), "utf8"));
let seed = Number(process.argv[3] ?? Math.floor(Date.now() / 1000));
const until = Date.now() + minutes * 60_000;
const SILENCE = 60_000;

// Below the repository, so that the program finds its tables.
const bundle = join(repository, "node_modules/.cache/jartally-fuzz");
mkdirSync(bundle, { recursive: true });
await build({
  entryPoints: { "long-form": join(import.meta.dirname, "long-form.ts") },
  outdir: bundle,
  outExtension: { ".js": ".mjs" },
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  external: ["vitest"],
  define: { JARTALLY_VERSION: JSON.stringify(version) },
  banner: {
    js: 'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);',
  },
  logLevel: "error",
});

// Where the cases lie; one that brings its process down leaves them there.
const room = mkdtempSync(join(tmpdir(), "jartally-fuzz-"));
let running;
process.once("exit", () => {
  running?.kill("SIGKILL");
  rmSync(room, { recursive: true, force: true });
});
for (const signal of ["SIGINT", "SIGTERM"]) process.once(signal, () => process.exit(1));

const first = seed;
const found = new Map();
let cases = 0;
while (Date.now() < until) {
  const last = await runFrom(seed);
  if (last === undefined) break;
  seed = last + 1;
}
process.stdout.write(`${cases} cases from seed ${first} on; ${found.size} kinds of fault\n`);
for (const [what, { count, number, words }] of found)
  process.stdout.write(`${count} x ${what}, first with seed ${number}: jartally ${words.join(" ")}\n`);
process.exitCode = found.size > 0 ? 1 : 0;

/** Runs cases in a process of its own until it ends or stops answering; the number of the last one if it did. */
function runFrom(start) {
  return new Promise((done) => {
    rmSync(room, { recursive: true, force: true });
    mkdirSync(room);
    const words = [String(start), String(until), repository, room];
    const child = fork(join(bundle, "long-form.mjs"), words, {
      execArgv: ["--max-old-space-size=400"],
      stdio: ["ignore", "ignore", "pipe", "ipc"],
    });
    running = child;
    let last;
    let told = "";
    let isEnded = false;
    let timer = setTimeout(() => child.kill("SIGKILL"), SILENCE);
    child.stderr.on("data", (text) => {
      told = `${told}${text}`.slice(-2000);
    });
    child.on("message", (message) => {
      clearTimeout(timer);
      timer = setTimeout(() => child.kill("SIGKILL"), SILENCE);
      last = message;
      if (!message.done) return;
      cases++;
      if (message.fault !== undefined) keep(message, message.fault);
    });
    child.on("disconnect", () => {
      isEnded = last?.done === true && Date.now() >= until;
    });
    child.on("exit", (code, signal) => {
      clearTimeout(timer);
      running = undefined;
      if (last === undefined) {
        process.stdout.write(`the cases do not start: ${told}\n`);
        done(undefined);
        return;
      }
      if (!isEnded && last.done !== true)
        keep(
          last,
          signal === "SIGKILL" ? "never ends" : `brings the process down ${code} ${told.slice(-200)}`,
        );
      done(isEnded ? undefined : last.number);
    });
  });
}

/** Adds the file of a case to the corpus, once for each kind of fault. */
function keep({ number, bytes, target, file, words }, fault) {
  const what = `${target}: ${fault}`;
  const known = found.get(what);
  if (known !== undefined) {
    known.count++;
    return;
  }
  found.set(what, { count: 1, number, words });
  const kind = fault
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "")
    .slice(0, 60);
  const name = `${target}--${kind}${file === undefined ? ".json" : extname(file)}`;
  writeFileSync(join(corpus, name), Buffer.from(bytes, "base64"));
  writeFileSync(join(bundle, `${name}.words`), JSON.stringify({ number, words, fault }));
}
