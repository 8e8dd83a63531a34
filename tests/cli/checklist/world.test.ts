import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, REPOSITORY, runJartally } from "../../helpers/run-jartally.ts";

const FULL = [
  ...["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"],
  ...["--reference", "vennaloo-demo"],
];

/** Node's words for code that runs before the program. */
function preloaded(code: string): Record<string, string> {
  return { NODE_OPTIONS: `--import=data:text/javascript,${encodeURIComponent(code)}` };
}

/** Makes everything fail that reaches out of the process, and tells of it. */
const NO_WORLD = `
import { syncBuiltinESMExports } from "node:module";
import net from "node:net"; import dns from "node:dns"; import http from "node:http"; import https from "node:https";
import child from "node:child_process"; import dgram from "node:dgram"; import vm from "node:vm";
const no = (what) => () => { process.stderr.write("REACHED " + what + "\\n"); throw new Error(what); };
net.Socket.prototype.connect = no("connect"); net.connect = net.createConnection = no("connect");
net.Server.prototype.listen = no("listen"); dns.lookup = dns.resolve = no("dns"); dgram.createSocket = no("dgram");
http.request = http.get = https.request = https.get = no("http"); globalThis.fetch = no("fetch");
for (const name of ["spawn", "exec", "execFile", "fork", "spawnSync", "execSync", "execFileSync"]) child[name] = no(name);
for (const name of ["runInThisContext", "runInNewContext", "compileFunction"]) vm[name] = no(name);
syncBuiltinESMExports();
`;

describe("the world outside", { timeout: 180_000 }, () => {
  it("is not asked: no network, no other program, with the same bytes", () => {
    const cwd = demoFolder();
    const commands = [
      FULL,
      ["demo"],
      ["reference", "check"],
      ["check", ...FULL.slice(1)],
      ["metrics", "--list"],
    ];
    for (const words of commands) {
      const plain = runJartally(words, { cwd });
      expect(runJartally(words, { cwd, env: preloaded(NO_WORLD) })).toEqual(plain);
      expect(plain.status).toBe(0);
    }
    const run = [...FULL, "-q", "--run", "run"];
    expect(runJartally(run, { cwd, env: preloaded(NO_WORLD) })).toEqual({
      status: 0,
      stdout: expect.any(String),
      stderr: "",
    });
    for (const words of [
      ["report", "run", "-q", "-o", "pages"],
      ["export", "run", "-q", "--as", "darwin-core", "-o", "made"],
      ["verify", "run", "-q"],
    ]) {
      const result = runJartally(words, { cwd, env: preloaded(NO_WORLD) });
      expect([words[0], result.status, result.stderr]).toEqual([words[0], 0, ""]);
    }
  });

  it("has no say by variables that are not ours, nor by properties that others put on every object", () => {
    const cwd = demoFolder();
    const plain = runJartally(FULL, { cwd });
    const env = { JARTALLY_SEED: "9", JARTALLY_REFERENCE: "x", DEBUG: "*", SEED: "9", LANG: "tr_TR.UTF-8" };
    expect(runJartally(FULL, { cwd, env })).toEqual(plain);
    // Not to be counted off: the code that ships is put together by a bundler whose own loop would trip.
    const poison = `for (const [at, name] of [[Object.prototype, "x"], [Object.prototype, "count"], [Array.prototype, "y"]])
      Object.defineProperty(at, name, { value: 5, writable: true, configurable: true });`;
    expect(runJartally(FULL, { cwd, env: preloaded(poison) })).toEqual(plain);
  });

  it("has another clock without another result", () => {
    const cwd = demoFolder();
    const clock =
      "const D = Date; globalThis.Date = class extends D { constructor(...a) { super(...(a.length ? a : [4e12])); } static now() { return 4e12; } };";
    expect(runJartally(FULL, { cwd, env: preloaded(clock) })).toEqual(runJartally(FULL, { cwd }));
  });

  it("gives the same for every language, zone, folder and order of the files that do not matter", () => {
    const cwd = demoFolder();
    const plain = runJartally(FULL, { cwd });
    for (const env of [
      { LC_ALL: "tr_TR.UTF-8", LANG: "tr_TR.UTF-8", TZ: "Pacific/Apia" },
      { LC_ALL: "sv_SE.UTF-8", TZ: "America/St_Johns" },
      { LC_ALL: "POSIX", TZ: "Nowhere/Atall", COLUMNS: "1" },
    ])
      expect(runJartally(FULL, { cwd, env })).toEqual(plain);
    expect(runJartally([...FULL, "--threads", "4"], { cwd })).toEqual(plain);
    const other = freshFolder();
    const paths = FULL.map((word) => (word.endsWith(".csv") ? join(cwd, word) : word));
    expect(runJartally(paths, { cwd: other }).stdout).toBe(plain.stdout);
  });

  it("is never asked a question: a command without a terminal and without input ends", () => {
    for (const words of [["score"], ["check", "-"], ["init"], ["reference", "new"], []]) {
      const result = spawnSync(process.execPath, [join(REPOSITORY, "bin/jartally.js"), ...words], {
        cwd: freshFolder(),
        stdio: ["ignore", "pipe", "pipe"],
        timeout: 20_000,
      });
      expect([words, result.signal]).toEqual([words, null]);
    }
  });
});

describe("another Node.js", () => {
  it.each(["18.20.4", "20.18.0", "21.7.3", "22.11.0"])("%s is refused in one sentence", (version) => {
    const fake = `Object.defineProperty(process.versions, "node", { value: "${version}" });`;
    const result = runJartally(["demo"], { env: preloaded(fake) });
    expect([result.status, result.stdout]).toEqual([70, ""]);
    expect(result.stderr).toMatch(/^jartally needs Node\.js 20\.19 or later .*; this is .*\.\n$/);
    expect(result.stderr).toContain(version);
  });

  it("is looked at before anything is loaded that would need it", () => {
    const first = readFileSync(join(REPOSITORY, "bin/jartally.js"), "utf8").split("\n");
    expect(first.filter((line) => /^import /.test(line))).toEqual([]);
  });
});

describe("a program that is not whole", () => {
  it("says that a table of its own cannot be read, with 4 and no stack", () => {
    const broken = `
      import fs from "node:fs"; import { syncBuiltinESMExports } from "node:module";
      const real = fs.readFileSync;
      fs.readFileSync = (path, ...more) => {
        if (String(path).endsWith("synonyms.csv")) throw Object.assign(new Error("EIO: i/o error, read"), { code: "EIO" });
        return real(path, ...more);
      };
      syncBuiltinESMExports();`;
    const cwd = freshFolder();
    writeFileSync(join(cwd, "s.csv"), "sample_id,taxon,count\nS,Caenis,3\n");
    const result = runJartally(["check", "s.csv"], { cwd, env: preloaded(broken) });
    expect([result.status, result.stdout]).toEqual([4, ""]);
    expect(result.stderr).toMatch(/^jartally: .*synonyms\.csv: the device reports a read or write error\n$/);
  });
});
