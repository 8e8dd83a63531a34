// node tests/hostile/other-node/run.mjs NODE...: runs the built program with other binaries of Node.js and compares
// every byte, of outputs, messages and run folders, with what this one gives. The npm package `node` has such
// binaries: npm install node@22 in an empty folder outside the repository puts one at node_modules/node/bin/node.
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const repository = resolve(import.meta.dirname, "../../..");
const bin = join(repository, "bin/jartally.js");
const SCORE = [
  ...["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"],
  ...["--reference", "vennaloo-demo"],
];
const COMMANDS = [
  ["--version"],
  ["help", "score"],
  ["demo", "--format", "json"],
  [...SCORE, "--format", "table"],
  [...SCORE, "--run", "run"],
  ["verify", "run"],
  ["rescore", "run", "--reference", "vennaloo-demo", "--target", "200"],
  ["report", "run", "-o", "pages"],
  ["export", "run", "--as", "darwin-core", "-o", "archive"],
  ["export", "run", "--as", "water-quality-exchange", "-o", "tables"],
  ["explain", ...SCORE.slice(1), "--sample", "V4-2023-05"],
  ["subsample", "bench-sheet.csv", "--names", "names.csv", "--target", "100", "--draws", "3"],
  ["grids", "sample-log.csv"],
  [
    "check",
    "bench-sheet.csv",
    "--samples",
    "sample-log.csv",
    "--names",
    "names.csv",
    "--today",
    "2024-12-01",
  ],
  ["qc", "sorting", "qc-sorting-check.csv"],
  ["reference", "check"],
  ["score", "nope.csv", "--reference", "vennaloo-demo"],
  ["score", "--sed", "1"],
];

function contents(path, shown, into) {
  if (!existsSync(path)) return into;
  if (statSync(path).isDirectory())
    for (const name of readdirSync(path).sort()) contents(join(path, name), `${shown}/${name}`, into);
  else into.set(shown, readFileSync(path).toString("base64"));
  return into;
}

/** Everything a binary gives, by what it is. */
function everything(node) {
  const folder = mkdtempSync(join(tmpdir(), "jartally-node-"));
  process.once("exit", () => rmSync(folder, { recursive: true, force: true }));
  cpSync(join(repository, "demo-data"), folder, { recursive: true });
  const given = new Map();
  for (const words of COMMANDS) {
    const { status, stdout, stderr } = spawnSync(node, [bin, ...words], {
      cwd: folder,
      encoding: "utf8",
      maxBuffer: 1 << 28,
      env: { PATH: process.env.PATH ?? "" },
    });
    given.set(`jartally ${words.join(" ")}`, JSON.stringify([status, stdout, stderr]));
  }
  for (const made of ["run", "pages", "archive", "tables"]) contents(join(folder, made), made, given);
  return given;
}

const own = everything(process.execPath);
process.stdout.write(`${process.version}: ${own.size} outputs and files\n`);
for (const node of process.argv.slice(2)) {
  const { stdout: version } = spawnSync(node, ["--version"], { encoding: "utf8" });
  const other = everything(node);
  const differing = [...new Set([...own.keys(), ...other.keys()])].filter(
    (what) => own.get(what) !== other.get(what),
  );
  process.stdout.write(
    `${version.trim()}: ${differing.length === 0 ? "the same bytes" : `differs in ${differing.join(", ")}`}\n`,
  );
  if (differing.length > 0) process.exitCode = 1;
}
