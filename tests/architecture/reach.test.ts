import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { describe, expect, it } from "vitest";
import { REPOSITORY } from "../helpers/run-jartally.ts";

// What the contributor guide says under "What it reads, writes and never does", held by the code itself.

const SRC = join(REPOSITORY, "src");
/** The modules of Node.js the program may use, and why: files, paths, hashes, unpacking, text. */
const NODE = [
  "node:buffer",
  "node:crypto",
  "node:fs",
  "node:fs/promises",
  "node:path",
  "node:stream",
  "node:util",
  "node:zlib",
];
/** What only threads and those who start them may use: themselves, and how many the machine has. */
const THREADS = ["node:os", "node:worker_threads"];
/** What only the start of the built program may use. */
const STARTING = ["node:vm"];
/** Each dependency with the rooms that may import it. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  chalk: ["cli"],
  commander: ["cli"],
  "csv-parse": ["files", "reference"],
  "csv-stringify": ["files", "reference"],
  echarts: ["report"],
  "fastest-levenshtein": ["cli", "metrics", "names", "reference", "sheets"],
  fflate: ["exchange", "files"],
  "pure-rand": ["subsample"],
  "read-excel-file": ["files"],
  "string-width": ["cli", "files", "report"],
  zod: ["metrics", "model", "reference", "report", "runs"],
};

interface Source {
  readonly file: string;
  readonly room: string;
  /** Without comments. */
  readonly code: string;
  readonly imports: readonly string[];
}

function sources(folder: string): Source[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry): Source[] => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sources(path);
    if (!entry.name.endsWith(".ts") || entry.name.endsWith(".d.ts")) return [];
    const file = relative(SRC, path).replaceAll("\\", "/");
    const code = readFileSync(path, "utf8").replace(/^\s*(?:\/\*\*?|\*|\/\/).*$/gm, "");
    const imports = [...code.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*"([a-z@][\w@:/.-]*)"/g)].map(
      (one) => one[1] ?? "",
    );
    return [{ file, room: file.split("/")[0] ?? "", code, imports }];
  });
}

const ALL = sources(SRC);

function using(pattern: RegExp): string[] {
  return ALL.filter(({ code }) => pattern.test(code)).map(({ file }) => file);
}

describe("what the program reaches", () => {
  it("is files, and no network, other program or shell, and no thread but those that resample and hash", () => {
    expect(ALL.length).toBeGreaterThan(300);
    const used = ALL.flatMap(({ imports }) => imports.filter((one) => one.startsWith("node:")));
    expect([...new Set(used)].filter((one) => !NODE.includes(one)).sort()).toEqual(
      [...THREADS, ...STARTING].sort(),
    );
    const importing = (names: readonly string[]) =>
      ALL.filter(({ imports }) => imports.some((one) => names.includes(one))).map(({ file }) => file);
    expect(importing(THREADS).sort()).toEqual([
      "files/program-thread.ts",
      "pipeline/intervals/resample-worker.ts",
      "pipeline/intervals/resampling-threads.ts",
      "runs/checksum-thread.ts",
      "runs/checksum-worker.ts",
      "start/thread.ts",
    ]);
    expect(importing(STARTING).sort()).toEqual(["start/load-program.ts"]);
    expect(using(/\bfetch\(|\bXMLHttpRequest\b|\bWebSocket\b|\bEventSource\b|\bnavigator\./)).toEqual([]);
  });

  it("is never code that came with the data", () => {
    expect(
      using(/\beval\(|\bnew Function\b|\bFunction\(|\bimport\([^"]|\brequire\(|\bWebAssembly\b/),
    ).toEqual([]);
    expect(using(/\bprocess\.(binding|dlopen|getBuiltinModule)\b/)).toEqual([]);
  });

  it("is each dependency from the rooms that need it, and none that the guide does not name", () => {
    const { dependencies } = JSON.parse(readFileSync(join(REPOSITORY, "package.json"), "utf8"));
    expect(Object.keys(dependencies).sort()).toEqual(Object.keys(PACKAGES).sort());
    const strangers = ALL.flatMap(({ file, room, imports }) =>
      imports
        .filter((one) => !one.startsWith("node:"))
        .filter((one) => PACKAGES[one.split("/")[0] ?? ""]?.includes(room) !== true)
        .map((one) => `${file}: ${one}`),
    );
    expect(strangers).toEqual([]);
    const guide = readFileSync(join(REPOSITORY, "DEVELOPERS.md"), "utf8");
    for (const name of Object.keys(PACKAGES)) expect(guide).toContain(name);
  });

  it("is the environment and the clock from the command line alone", () => {
    expect(using(/\bprocess\.env\b/)).toEqual(["cli/standard-streams.ts"]);
    // A day of the calendar for checks, a moment when a stamp is asked for; an archive needs some fixed moment, a cell its own.
    expect(using(/\bnew Date\(/).sort()).toEqual([
      "cli/run-place.ts",
      "cli/standard-streams.ts",
      "exchange/write-exchange.ts",
      "files/workbook/sheet-cells.ts",
    ]);
    expect(using(/\bDate\.now\b|\bMath\.random\b/)).toEqual([]);
    // How long the work has taken says when the line of progress moves.
    expect(using(/\bperformance\b|\bprocess\.(uptime|hrtime)\b/)).toEqual(["cli/progress.ts"]);
    expect(using(/\bhomedir\b|\btmpdir\b|\bhostname\b|\buserInfo\b/)).toEqual([]);
  });

  it("is no language but code points: nothing is sorted or written by the machine's own", () => {
    expect(using(/\.localeCompare\(|\.toLocale\w+\(|\bIntl\./)).toEqual([]);
  });

  it("is installed without running a script of another package", () => {
    const lock = JSON.parse(readFileSync(join(REPOSITORY, "package-lock.json"), "utf8"));
    const scripts = Object.entries(
      lock.packages as Record<string, { hasInstallScript?: boolean; dev?: boolean }>,
    )
      .filter(([path, one]) => path !== "" && one.hasInstallScript === true && one.dev !== true)
      .map(([path]) => path);
    expect(scripts).toEqual([]);
  });
});
