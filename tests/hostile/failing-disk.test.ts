import { cpSync, existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import type * as FileFunctions from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { failingFunctions, knownName, type newDisk } from "../helpers/failing-disk.ts";
import { runInside } from "../helpers/in-process.ts";
import { freshFolder } from "../helpers/run-jartally.ts";
import { smallLab } from "../helpers/small-lab.ts";

const disk = vi.hoisted(() => ({ failAt: 0, code: "EIO", count: 0, failed: undefined }) as never);
vi.mock("node:fs/promises", async (importOriginal) =>
  failingFunctions(await importOriginal<typeof FileFunctions>(), disk as ReturnType<typeof newDisk>),
);
const state = disk as ReturnType<typeof newDisk>;

const SCORE = ["score", "sheet.csv", "--samples", "log.csv", "--reference", "./small-set"];
const SCENARIOS: readonly {
  readonly name: string;
  readonly words: readonly string[];
  /** What it makes. */
  readonly makes: readonly string[];
  /** Command lines before it. */
  readonly after?: readonly (readonly string[])[];
  /** Whether there are older files of those names. */
  readonly hasOld?: boolean;
}[] = [
  { name: "score -o", words: [...SCORE, "-o", "out.csv"], makes: ["out.csv"] },
  {
    name: "score -o over an older file",
    words: [...SCORE, "-o", "out.csv", "--force"],
    makes: ["out.csv"],
    hasOld: true,
  },
  {
    name: "score with findings over older files",
    words: [...SCORE, "-o", "out.json", "--findings", "found.csv", "--force"],
    makes: ["out.json", "found.csv"],
    hasOld: true,
  },
  { name: "score --run", words: [...SCORE, "--run", "made"], makes: ["made"] },
  {
    name: "subsample --summary",
    words: ["subsample", "sheet.csv", "--target", "5", "-o", "out.csv", "--summary", "sum.csv"],
    makes: ["out.csv", "sum.csv"],
  },
  {
    name: "check --write-names",
    words: ["check", "sheet.csv", "-o", "out.csv", "--write-names", "open.csv"],
    makes: ["out.csv", "open.csv"],
  },
  { name: "init", words: ["init", "made"], makes: ["made"] },
  { name: "demo --into", words: ["demo", "--into", "made"], makes: ["made"] },
  {
    name: "reference new",
    words: ["reference", "new", "made", "--from", "./small-set"],
    makes: ["made"],
  },
  {
    name: "report",
    words: ["report", "run", "-o", "made"],
    makes: ["made"],
    after: [[...SCORE, "--run", "run"]],
  },
  {
    name: "export",
    words: ["export", "run", "--as", "darwin-core", "-o", "made"],
    makes: ["made"],
    after: [[...SCORE, "--run", "run"]],
  },
  { name: "verify", words: ["verify", "run"], makes: [], after: [[...SCORE, "--run", "run"]] },
  {
    name: "rescore",
    words: ["rescore", "run", "--reference", "./small-set", "-o", "out.csv"],
    makes: ["out.csv"],
    after: [[...SCORE, "--run", "run"]],
  },
  {
    name: "grids --pages",
    words: ["grids", "log.csv", "--tray", "2x3", "-o", "out.csv", "--pages", "pages.html"],
    makes: ["out.csv", "pages.html"],
  },
];

/** Files of a folder by path, with their text. */
function contents(path: string, shown: string, into = new Map<string, string>()): Map<string, string> {
  if (!existsSync(path)) return into;
  if (statSync(path).isDirectory())
    for (const name of readdirSync(path).sort()) contents(join(path, name), `${shown}/${name}`, into);
  else into.set(shown, readFileSync(path, "utf8"));
  return into;
}

const NOTHING: readonly (readonly string[])[] = [];

describe("a disk on which one operation fails", () => {
  it.each(SCENARIOS)(
    "$name ends with 4, names the file and leaves no part behind",
    {
      timeout: 300_000,
    },
    async ({ words, makes, after = NOTHING, hasOld = false }) => {
      state.failAt = 0;
      const lab = smallLab();
      for (const earlier of after) await runInside(earlier, lab);
      if (hasOld) for (const name of makes) writeFileSync(join(lab, name), "old");
      const copy = () => {
        const folder = freshFolder();
        cpSync(lab, folder, { recursive: true });
        return folder;
      };
      const good = copy();
      const usual = await runInside(words, good);
      const whole = new Map(makes.map((name) => [name, contents(join(good, name), name)]));
      for (let n = 1; ; n++) {
        const place = copy();
        const code = n % 2 === 0 ? "ENOSPC" : "EIO";
        Object.assign(state, { failAt: n, code, count: 0, failed: undefined });
        const result = await runInside(words, place);
        const { failed } = state;
        state.failAt = 0;
        const told = `${n}: ${failed?.operation} ${failed?.path}: ${result.stderr}`;
        const known = [...readdirSync(lab), ...makes];
        expect(
          readdirSync(place).filter((name) => !known.includes(name)),
          told,
        ).toEqual([]);
        for (const name of makes) {
          const now = contents(join(place, name), name);
          const old = hasOld ? new Map([[name, "old"]]) : new Map();
          expect([old, whole.get(name)], told).toContainEqual(now);
          if (result.status !== 4) expect(now, told).toEqual(whole.get(name));
        }
        if (failed === undefined) {
          expect(result.status).toBe(usual.status);
          expect(n).toBeGreaterThan(5);
          break;
        }
        if (result.status === usual.status) {
          // What failed was a question that can be done without.
          expect(["realpath", "stat", "lstat"], told).toContain(failed.operation);
          continue;
        }
        expect(result.status, told).toBe(4);
        expect(result.stderr, told).toMatch(nameIn(failed.path, place, makes, result.stderr));
        expect(result.stderr, told).toMatch(
          code === "EIO" ? /the device reports a read or write error/ : /no space left on the device/,
        );
        expect(result.stderr, told).not.toMatch(/\n\s+at |internal error|jartally-tmp/);
      }
    },
  );
});

/** How a message names what failed: as the user gave it, but for files of the package, which lie elsewhere. */
function nameIn(path: string, place: string, makes: readonly string[], told: string): RegExp {
  // The folder of an output is flushed when the output is in its place: then that is what to name.
  const named = path === place ? (makes.find((name) => told.includes(name)) ?? "?") : knownName(path);
  return new RegExp(`^jartally: ${path.startsWith(place) ? "(?!/)" : ""}.*${named}`, "m");
}
