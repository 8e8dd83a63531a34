import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { checksumsText, hashFolder, parseChecksums } from "../../src/runs/checksums.ts";
import { ComparingSink } from "../../src/runs/comparing-sink.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

// FIPS 180-4, example of SHA-256 for the message "abc".
const ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

describe("checksums", () => {
  it("cover every file below a folder but themselves, sorted by code point", async () => {
    const folder = freshFolder();
    mkdirSync(join(folder, "b/c"), { recursive: true });
    for (const path of ["b/c/x", "b.csv", "a", "checksums.txt"]) writeFileSync(join(folder, path), "abc");
    const found = await hashFolder(folder, "run");
    expect(checksumsText(found)).toBe(`${ABC}  a\n${ABC}  b.csv\n${ABC}  b/c/x\n`);
    expect(parseChecksums(checksumsText(found))).toEqual({ checksums: found });
  });

  it.each([
    ["no line end", `${ABC}  a`, 1],
    ["a short hash", `${ABC}  a\n${ABC.slice(1)}  b\n`, 2],
    ["a file twice", `${ABC}  a\n${ABC}  a\n`, 2],
    ["one blank", `${ABC} a\n`, 1],
  ])("are not read with %s", (_, text, faultyLine) => {
    expect(parseChecksums(text)).toEqual({ faultyLine });
  });
});

describe("comparing", () => {
  const text = "sample,näme\nS-1,2\n";

  it("finds every single byte that is another, and its line", async () => {
    const bytes = Buffer.from(text, "utf8");
    for (let at = 0; at < bytes.length; at++) {
      const changed = Buffer.from(bytes);
      changed[at] = (changed[at] ?? 0) ^ 1;
      const sink = new ComparingSink(changed);
      // In two pieces, as tables are written.
      await sink.write(text.slice(0, 5));
      await sink.write(text.slice(5));
      expect(sink.differsAt).toBe(at < Buffer.byteLength("sample,näme\n") ? 1 : 2);
    }
  });

  it("finds what is missing and what is too much", async () => {
    for (const [there, line] of [
      [text, undefined],
      [`${text}x`, 3],
      [text.slice(0, -1), 2],
      ["", 1],
    ] as const) {
      const sink = new ComparingSink(Buffer.from(there, "utf8"));
      await sink.write(text);
      expect(sink.differsAt).toBe(line);
    }
  });
});
