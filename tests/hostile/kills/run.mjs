// node tests/hostile/kills/run.mjs [TIMES]: kills the built program (SIGKILL) at random moments of its work and
// looks at what is left: every output whole, the old one or the new one, and nothing else but names that say what
// they are. The short forms are in tests/files/safe-write.test.ts and tests/cli/run.test.ts.
import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const repository = resolve(import.meta.dirname, "../../..");
const times = Number(process.argv[2] ?? 200);
const bin = join(repository, "bin/jartally.js");
const room = mkdtempSync(join(tmpdir(), "jartally-kills-"));
process.once("exit", () => rmSync(room, { recursive: true, force: true }));
for (const signal of ["SIGINT", "SIGTERM"]) process.once(signal, () => process.exit(1));
const lab = join(room, "lab");
cpSync(join(repository, "demo-data"), lab, { recursive: true });
const SCORE = [
  ...["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"],
  ...["--reference", "vennaloo-demo", "-q"],
];
const must = (words) => {
  const { status, stderr } = spawnSync(process.execPath, [bin, ...words], { cwd: lab, encoding: "utf8" });
  if (status !== 0) throw new Error(`${words.join(" ")}: ${status} ${stderr}`);
};
must([...SCORE, "--run", "run"]);
writeFileSync(join(lab, "scores.csv"), "old\n");

/** What is done, and what it makes. */
const JOBS = [
  { words: [...SCORE, "-o", "scores.csv", "--force"], makes: "scores.csv" },
  { words: [...SCORE, "--run", "made"], makes: "made" },
  { words: ["report", "run", "-q", "-o", "made"], makes: "made" },
  { words: ["export", "run", "-q", "--as", "darwin-core", "-o", "made"], makes: "made" },
];

function digest(path, hash = createHash("sha256")) {
  if (!existsSync(path)) return "none";
  if (statSync(path).isDirectory()) {
    for (const name of readdirSync(path).sort()) hash.update(`${name}:${digest(join(path, name))}\n`);
  } else hash.update(readFileSync(path));
  return hash.copy().digest("hex");
}

const before = readdirSync(lab).sort();
for (const job of JOBS) {
  job.old = digest(join(lab, job.makes));
  const saved = existsSync(join(lab, job.makes)) ? readFileSync(join(lab, job.makes)) : undefined;
  const start = performance.now();
  must(job.words);
  job.usual = performance.now() - start;
  job.new = digest(join(lab, job.makes));
  rmSync(join(lab, job.makes), { recursive: true });
  if (saved !== undefined) writeFileSync(join(lab, job.makes), saved);
}

const counts = { old: 0, new: 0, "left behind": 0 };
const wrong = [];
for (let round = 0; round < times; round++) {
  const job = JOBS[round % JOBS.length];
  const place = join(room, "place");
  rmSync(place, { recursive: true, force: true });
  cpSync(lab, place, { recursive: true });
  // Most of what can go wrong lies in the second half, where files are written.
  const after = job.usual * (0.3 + 0.8 * Math.random());
  await new Promise((done) => {
    const child = spawn(process.execPath, [bin, ...job.words], { cwd: place, stdio: "ignore" });
    const timer = setTimeout(() => child.kill("SIGKILL"), after);
    child.on("exit", () => {
      clearTimeout(timer);
      done();
    });
  });
  const now = digest(join(place, job.makes));
  if (now === job.new) counts.new++;
  else if (now === job.old) counts.old++;
  else wrong.push(`${job.words[0]} after ${Math.round(after)} ms: ${job.makes} is neither old nor new`);
  for (const name of readdirSync(place)) {
    if (before.includes(name) || name === job.makes) continue;
    if (/^\..+\.\d+-\d+\.jartally-tmp$/.test(name)) counts["left behind"]++;
    else wrong.push(`${job.words[0]} after ${Math.round(after)} ms leaves ${name}`);
  }
  // What was left behind is in nobody's way.
  if (round % 20 === 0 && job.makes === "made" && now === "none") {
    const again = spawnSync(process.execPath, [bin, ...job.words], { cwd: place, encoding: "utf8" });
    if (again.status !== 0 || digest(join(place, "made")) !== job.new)
      wrong.push(`${job.words[0]} again: ${again.stderr}`);
  }
}
process.stdout.write(
  `${times} kills: ${JSON.stringify(counts)}; ${wrong.length} wrong\n${wrong.join("\n")}\n`,
);
process.exitCode = wrong.length > 0 ? 1 : 0;
