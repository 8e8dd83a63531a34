// node tests/hostile/writers/run.mjs [PROGRAMS] [ROUNDS]: starts programs at the same moment that write to one place.
// Every file and folder has to be whole and of one program; with a name that may not be replaced exactly one
// program wins and the others end with 4; nothing else is left.
import { spawn, spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const repository = resolve(import.meta.dirname, "../../..");
const bin = join(repository, "bin/jartally.js");
const programs = Number(process.argv[2] ?? 20);
const rounds = Number(process.argv[3] ?? 1);
const room = mkdtempSync(join(tmpdir(), "jartally-writers-"));
process.once("exit", () => rmSync(room, { recursive: true, force: true }));
const lab = join(room, "lab");
cpSync(join(repository, "demo-data"), lab, { recursive: true });
const SCORE = [
  ...["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"],
  ...["--reference", "vennaloo-demo", "-q"],
];

/** Writers differ in their seed, so that parts of two of them would not agree. */
const JOBS = [
  { name: "one file, replaced", words: [...SCORE, "-o", "out.csv", "--force"], makes: "out.csv", all: true },
  { name: "one new file", words: [...SCORE, "-o", "out.csv"], makes: "out.csv", all: false },
  { name: "one run folder", words: [...SCORE, "--run", "made"], makes: "made", all: false },
];
const SEEDS = 4;

function start(words, cwd) {
  return new Promise((done) => {
    const child = spawn(process.execPath, [bin, ...words], { cwd, stdio: ["ignore", "ignore", "pipe"] });
    let stderr = "";
    child.stderr.on("data", (piece) => {
      stderr += piece;
    });
    child.on("close", (status) => done({ status, stderr }));
  });
}

function content(path) {
  if (!statSync(path).isDirectory()) return readFileSync(path, "utf8");
  const names = readdirSync(path).sort();
  return names.map((name) => `${name}\n${content(join(path, name))}`).join("\n");
}

const before = readdirSync(lab).sort();
const wrong = [];
for (const job of JOBS) {
  const wanted = new Map();
  for (let seed = 0; seed < SEEDS; seed++) {
    const { status, stderr } = spawnSync(process.execPath, [bin, ...job.words, "--seed", String(seed)], {
      cwd: lab,
      encoding: "utf8",
    });
    if (status !== 0) throw new Error(`${job.name}: ${status} ${stderr}`);
    wanted.set(content(join(lab, job.makes)), seed);
    rmSync(join(lab, job.makes), { recursive: true });
  }
  if (wanted.size !== SEEDS) throw new Error(`${job.name}: writers cannot be told apart`);
  for (let round = 0; round < rounds; round++) {
    if (job.all) writeFileSync(join(lab, job.makes), "old\n");
    const ends = await Promise.all(
      Array.from({ length: programs }, (_, at) => start([...job.words, "--seed", String(at % SEEDS)], lab)),
    );
    const won = ends.filter(({ status }) => status === 0).length;
    const others = ends.filter(({ status }) => status !== 0);
    if (won !== (job.all ? programs : 1)) wrong.push(`${job.name}: ${won} of ${programs} won`);
    for (const { status, stderr } of others)
      if (status !== 4 || !stderr.includes(job.makes) || /jartally-tmp|\n\s+at /.test(stderr))
        wrong.push(`${job.name}: ${status} ${stderr}`);
    if (!wanted.has(content(join(lab, job.makes))))
      wrong.push(`${job.name}: what is left is of no single writer`);
    if (job.makes === "made") {
      const { status, stderr } = spawnSync(process.execPath, [bin, "verify", job.makes], {
        cwd: lab,
        encoding: "utf8",
      });
      if (status !== 0) wrong.push(`${job.name}: does not verify: ${stderr}`);
    }
    rmSync(join(lab, job.makes), { recursive: true });
    const left = readdirSync(lab).sort();
    if (left.join() !== before.join())
      wrong.push(`${job.name}: leaves ${left.filter((one) => !before.includes(one))}`);
  }
}
process.stdout.write(
  `${JOBS.length * rounds} times ${programs} writers, ${wrong.length} wrong\n${wrong.join("\n")}`,
);
process.exitCode = wrong.length > 0 ? 1 : 0;
