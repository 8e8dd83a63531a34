import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { describe, expect, it } from "vitest";
import { REPOSITORY } from "../helpers/run-jartally.ts";

const SRC = join(REPOSITORY, "src");
/** Processor time of one pattern on one text of LENGTH characters; one that tries every way takes minutes. */
const MOST_MILLISECONDS = 400;
const LENGTH = 20_000;

/** A literal as it may stand in code: behind what no division follows. */
const LITERAL =
  /(?<=[=(,:!&|?[\n]\s*|\breturn\s+)\/((?![*/])(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n[])+)\/([dgimsuvy]*)/g;

function files(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? files(path) : entry.name.endsWith(".ts") ? [path] : [];
  });
}

/** Every pattern written in the code, with the file of its first place. */
function patterns(): Map<string, { readonly pattern: RegExp; readonly file: string }> {
  const found = new Map<string, { pattern: RegExp; file: string }>();
  for (const file of files(SRC)) {
    const code = readFileSync(file, "utf8").replace(/^\s*(?:\/\*\*?|\*|\/\/).*$/gm, "");
    for (const [literal, body = "", flags = ""] of code.matchAll(LITERAL)) {
      const pattern = found.has(literal) ? undefined : patternOf(body, flags);
      if (pattern !== undefined) found.set(literal, { pattern, file: relative(SRC, file) });
    }
  }
  return found;
}

/** Undefined for what only looks like a pattern, as in "(a / b) / (c". */
function patternOf(body: string, flags: string): RegExp | undefined {
  try {
    return new RegExp(body, flags);
  } catch {
    return undefined;
  }
}

/** Texts made of what the pattern itself is made of, and of what is common; each with an end that fits nothing. */
function texts(pattern: RegExp): string[] {
  const own = [...new Set(pattern.source.replaceAll(/\\[a-zA-Z]|\\x..|\\u..../g, " "))].slice(0, 24);
  const pieces = [
    ...own,
    ...own.slice(1).map((one, at) => one + own[at]),
    "a",
    "A ",
    " ",
    ",",
    "1",
    "1.",
    "a1 ",
    "é",
    "\n",
  ];
  return [...new Set(pieces)].flatMap((piece) => {
    const long = piece.repeat(Math.ceil(LENGTH / piece.length));
    return [`${long}\u0001`, `x${long}\u0001`];
  });
}

/** Processor time of one search. */
function millisecondsOf(pattern: RegExp, text: string): number {
  pattern.lastIndex = 0;
  const start = process.cpuUsage();
  if (pattern.global) text.replace(pattern, "");
  else pattern.exec(text);
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

describe("every pattern in the code", () => {
  const all = patterns();

  it("is found", () => {
    expect(all.size).toBeGreaterThan(100);
  });

  it("is done with a long hostile text in a moment", { timeout: 300_000 }, () => {
    const slow: string[] = [];
    for (const [literal, { pattern, file }] of all) {
      for (const text of texts(pattern)) {
        // Work of other threads counts in a process's time: what is slow is slow three times in a row.
        const times = [];
        do times.push(millisecondsOf(pattern, text));
        while ((times.at(-1) ?? 0) > MOST_MILLISECONDS && times.length < 3);
        const least = Math.min(...times);
        if (least <= MOST_MILLISECONDS) continue;
        slow.push(`${file}: ${literal} on ${JSON.stringify(text.slice(0, 6))}: ${Math.round(least)} ms`);
        break;
      }
    }
    expect(slow).toEqual([]);
  });
});
