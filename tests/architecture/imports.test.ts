import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

/** Each room with the rooms it may import from, as the contributor guide draws the house. */
const PURE = ["model", "findings", "names", "taxa", "subsample", "metrics", "scoring", "quality"];
const MAY_IMPORT: Record<string, readonly string[]> = {
  model: [],
  findings: ["model"],
  names: ["findings", "model"],
  taxa: ["names", "findings", "model"],
  subsample: ["names", "findings", "model"],
  metrics: ["taxa", "subsample", "names", "findings", "model"],
  scoring: ["metrics", "taxa", "subsample", "names", "findings", "model"],
  quality: ["metrics", "taxa", "subsample", "names", "findings", "model"],
  files: [...PURE],
  sheets: ["files", ...PURE],
  reference: ["files", "sheets", ...PURE],
  runs: ["files", "sheets", "reference", ...PURE],
  report: ["files", "sheets", "reference", "runs", ...PURE],
  exchange: ["files", "sheets", "reference", "runs", ...PURE],
  pipeline: ["runs", "report", "exchange", "reference", "sheets", "files", ...PURE],
  start: [],
  cli: ["pipeline", "runs", "report", "exchange", "reference", "sheets", "files", ...PURE],
};
/** Packages a pure room may use: they compute and touch nothing. */
const PURE_PACKAGES = ["zod", "pure-rand", "fastest-levenshtein"];
/** Words of a pure room's code that reach for the world outside. */
const WORLD = [
  /\bprocess\./,
  /\bconsole\./,
  /\bMath\.random\b/,
  /\bDate\.now\b/,
  /\bnew Date\(\)/,
  /\bperformance\./,
  /\brequire\(/,
  /\bfetch\(/,
  /\bsetTimeout\(/,
  /\bglobalThis\b/,
];

const SRC = resolve(import.meta.dirname, "../../src");

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? sourceFiles(join(folder, entry.name))
      : /\.ts$/.test(entry.name) && !entry.name.endsWith(".d.ts")
        ? [join(folder, entry.name)]
        : [],
  );
}

function importsOf(code: string): string[] {
  const found = code.matchAll(/(?:from|import)\s*\(?\s*["']([^"']+)["']/g);
  return [...found].map((match) => match[1] ?? "");
}

function room(file: string): string {
  return relative(SRC, file).split(/[\\/]/)[0] ?? "";
}

const FILES = sourceFiles(SRC);
const ROOM_FILES = FILES.filter((file) => dirname(file) !== SRC);

describe("the house", () => {
  it("has a rule for every room", () => {
    expect([...new Set(ROOM_FILES.map(room))].filter((name) => MAY_IMPORT[name] === undefined)).toEqual([]);
  });

  it.each(ROOM_FILES.map((file) => [relative(SRC, file), file]))("%s imports downwards only", (_, file) => {
    const from = room(file);
    const bad = importsOf(readFileSync(file, "utf8")).filter((target) => {
      if (!target.startsWith(".")) return false;
      const to = room(resolve(dirname(file), target));
      return to !== from && MAY_IMPORT[from]?.includes(to) !== true;
    });
    expect(bad).toEqual([]);
  });

  it.each(ROOM_FILES.filter((file) => PURE.includes(room(file))).map((file) => [relative(SRC, file), file]))(
    "%s is pure",
    (_, file) => {
      const code = readFileSync(file, "utf8");
      const packages = importsOf(code).filter((target) => !target.startsWith("."));
      const allowed = (target: string) =>
        PURE_PACKAGES.includes(target.split("/")[0] ?? "") ||
        // A hash is a function of its input; only the random streams need one.
        (target === "node:crypto" &&
          room(file) === "subsample" &&
          /import \{ hash \} from "node:crypto"/.test(code));
      expect(packages.filter((target) => !allowed(target))).toEqual([]);
      const withoutComments = code.replace(/\/\*[\s\S]*?\*\//g, "").replace(/\/\/.*$/gm, "");
      expect(WORLD.filter((word) => word.test(withoutComments)).map(String)).toEqual([]);
    },
  );

  it("lets only the command line talk to the terminal", () => {
    const talkers = ROOM_FILES.filter((file) => room(file) !== "cli").filter((file) =>
      /\bconsole\.|process\.(stdout|stderr|exit|exitCode)/.test(
        readFileSync(file, "utf8").replace(/\/\*[\s\S]*?\*\//g, ""),
      ),
    );
    expect(talkers.map((file) => relative(SRC, file))).toEqual([]);
  });

  it("sets the exit code in one place and never ends the process itself", () => {
    const setters = FILES.filter((file) => /process\.exitCode/.test(readFileSync(file, "utf8"))).map((file) =>
      relative(SRC, file).replaceAll("\\", "/"),
    );
    expect(setters).toEqual(["cli/main.ts"]);
    expect(FILES.filter((file) => readFileSync(file, "utf8").includes("process.exit("))).toEqual([]);
  });
});
