// node tests/hostile/small-disk/run.mjs: fills a real file system of a few hundred kilobytes (a tmpfs) and lets the
// built program write into it. What does not fit has to end with 4 and the file named, without a part left behind and
// with the older file as it was; what fits has to be whole. Mounting takes the rights of an administrator; without them it says so and ends with 0.
import { spawnSync } from "node:child_process";
import {
  closeSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const repository = resolve(import.meta.dirname, "../../..");
const bin = join(repository, "bin/jartally.js");
const room = mkdtempSync(join(tmpdir(), "jartally-small-disk-"));
const lab = join(room, "lab");
const disk = join(room, "disk");
const SCORE = [
  ...["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"],
  ...["--reference", "vennaloo-demo", "-q"],
];
/** What is written into the disk, which is called disk/ in the folder where the program runs. */
const JOBS = [
  { words: [...SCORE, "-o", "disk/out.csv"], makes: "out.csv" },
  { words: [...SCORE, "-o", "disk/old.csv", "--force"], makes: "old.csv" },
  { words: [...SCORE, "-o", "scores.csv", "--force", "--findings", "disk/found.csv"], makes: "found.csv" },
  { words: [...SCORE, "--run", "disk/made"], makes: "made" },
  { words: ["report", "run", "-q", "-o", "disk/made"], makes: "made" },
  { words: ["export", "run", "-q", "--as", "darwin-core", "-o", "disk/made"], makes: "made" },
  {
    words: [
      "subsample",
      "bench-sheet.csv",
      "--names",
      "names.csv",
      "--target",
      "100",
      "-q",
      "-o",
      "disk/out.csv",
    ],
    makes: "out.csv",
  },
];
/** Bytes left free: none, enough for the first of several files, enough for a short output. */
const FREE = [0, 4096, 16_384];

function run(words) {
  return spawnSync(process.execPath, [bin, ...words], { cwd: lab, encoding: "utf8", timeout: 120_000 });
}

/** Fills the disk and then frees so many bytes of it. */
function fill(free) {
  const rest = join(disk, "rest");
  writeFileSync(rest, Buffer.alloc(free));
  const file = openSync(join(disk, "filler"), "w");
  const block = Buffer.alloc(4096);
  try {
    for (;;) writeSync(file, block);
  } catch (error) {
    if (error.code !== "ENOSPC") throw error;
  } finally {
    closeSync(file);
  }
  rmSync(rest);
}

function content(path) {
  if (!existsSync(path)) return "";
  if (!statSync(path).isDirectory()) return readFileSync(path, "utf8");
  const names = readdirSync(path).sort();
  return names.map((name) => `${name}\n${content(join(path, name))}`).join("\n");
}

/** What the job makes where there is room. */
function wholeOf(job) {
  mkdirSync(join(lab, "room"));
  const { status, stderr } = run(job.words.map((word) => word.replace("disk/", "room/")));
  if (status !== 0) throw new Error(stderr);
  const whole = content(join(lab, "room", job.makes));
  rmSync(join(lab, "room"), { recursive: true });
  return whole;
}

function tryAll() {
  const wrong = [];
  const wholes = JOBS.map(wholeOf);
  let full = 0;
  let fits = 0;
  for (const free of FREE) {
    for (const [at, job] of JOBS.entries()) {
      for (const name of readdirSync(disk)) rmSync(join(disk, name), { recursive: true });
      writeFileSync(join(disk, "old.csv"), "old\n");
      fill(free);
      const before = readdirSync(disk).sort().join();
      const { status, stderr } = run(job.words);
      const told = `${job.words[0]} to ${job.makes} with ${free} bytes free`;
      if (status === 0) {
        fits++;
        if (content(join(disk, job.makes)) !== wholes[at]) wrong.push(`${told} is not whole`);
        continue;
      }
      full++;
      if (status !== 4) wrong.push(`${told} ends with ${status}: ${stderr}`);
      if (!stderr.includes(`disk/${job.makes}`) || !stderr.includes("no space left on the device"))
        wrong.push(`${told} does not say what is full: ${stderr}`);
      if (/\n\s+at |jartally-tmp/.test(stderr)) wrong.push(`${told} says what nobody needs: ${stderr}`);
      if (readdirSync(disk).sort().join() !== before) wrong.push(`${told} leaves ${readdirSync(disk)}`);
      if (readFileSync(join(disk, "old.csv"), "utf8") !== "old\n") wrong.push(`${told} spoils the old file`);
    }
  }
  process.stdout.write(
    `${full} times full, ${fits} times room enough, ${wrong.length} wrong\n${wrong.join("\n")}`,
  );
  return wrong.length > 0 ? 1 : 0;
}

cpSync(join(repository, "demo-data"), lab, { recursive: true });
const made = run([...SCORE, "--run", "run"]);
if (made.status !== 0) throw new Error(made.stderr);
mkdirSync(disk);
const mount = spawnSync("mount", ["-t", "tmpfs", "-o", "size=256k", "jartally-small-disk", disk], {
  encoding: "utf8",
});
try {
  if (mount.status === 0) {
    try {
      symlinkSync(disk, join(lab, "disk"));
      process.exitCode = tryAll();
    } finally {
      spawnSync("umount", [disk]);
    }
  } else {
    const why = (mount.error?.message ?? mount.stderr).trim().split("\n")[0];
    process.stdout.write(`left out: no file system can be mounted here (${why})\n`);
  }
} finally {
  rmSync(room, { recursive: true, force: true });
}
