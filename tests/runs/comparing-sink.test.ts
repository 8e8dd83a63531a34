import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ComparingSink } from "../../src/runs/comparing-sink.ts";

/** The line of the first difference, looked for byte by byte. */
function firstDifference(there: Buffer, made: Buffer): number | undefined {
  let line = 1;
  for (let at = 0; at < made.length; at++) {
    if (there[at] !== made[at]) return line;
    if (made[at] === 10) line++;
  }
  return there.length > made.length ? line : undefined;
}

const lines = fc
  .array(fc.constantFrom("a", "b", "ä", "\n", "\n", "long line"), { maxLength: 12 })
  .map((parts) => parts.join(""));

describe("a sink that compares", () => {
  it("names the line of the first difference, however the text comes in pieces", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(
          fc.tuple(lines, lines),
          lines.map((text): [string, string] => [text, text]),
        ),
        fc.array(fc.nat(12), { maxLength: 4 }),
        fc.boolean(),
        async ([there, made], cuts, areBytes) => {
          const sink = new ComparingSink(Buffer.from(there, "utf8"));
          const places = [
            0,
            ...cuts.map((cut) => Math.min(cut, made.length)).sort((a, b) => a - b),
            made.length,
          ];
          for (let at = 1; at < places.length; at++) {
            const piece = made.slice(places[at - 1], places[at]);
            if (areBytes) await sink.writeBytes(Buffer.from(piece, "utf8"));
            else await sink.write(piece);
          }
          expect(sink.differsAt).toBe(firstDifference(Buffer.from(there), Buffer.from(made)));
        },
      ),
      { numRuns: 500 },
    );
  });

  it.each([
    ["nothing on both sides", "", "", undefined],
    ["bytes beyond the text", "a\nb\n", "a\n", 2],
    ["bytes that are missing", "a\n", "a\nb\n", 2],
    ["another byte", "a\nb\nc\n", "a\nx\nc\n", 2],
    ["another first byte", "a\n", "b\n", 1],
    ["an empty file", "", "a\n", 1],
  ])("knows %s", async (_, there, made, line) => {
    const sink = new ComparingSink(Buffer.from(there));
    await sink.write(made);
    expect(sink.differsAt).toBe(line);
  });

  it("keeps the first difference when later pieces agree again", async () => {
    const sink = new ComparingSink(Buffer.from("a\nb\nc\n"));
    for (const piece of ["x", "\nb\n", "c\n"]) await sink.write(piece);
    expect(sink.differsAt).toBe(1);
  });
});
