import { describe, expect, it } from "vitest";
import type { CommandContext, TextStream } from "../../src/cli/context.ts";
import type { OptionDefinition, OptionValues } from "../../src/cli/define.ts";
import { noProgressOption, quietOption } from "../../src/cli/options/messages.ts";
import type { Progress } from "../../src/cli/progress.ts";
import { progressBesideRows, progressLine, watched } from "../../src/cli/progress.ts";
import { watchedInputs } from "../../src/cli/watched-inputs.ts";
import { inputFromBytes } from "../../src/files/input.ts";

/** A stream that keeps what it shows. */
function streamThat(isTerminal: boolean, lines: string[]): TextStream {
  return {
    isTerminal,
    width: 80,
    isClosed: false,
    async write() {},
    async status(line) {
      lines.push(line);
    },
  };
}

function optionsWith(given: readonly OptionDefinition<boolean>[]): OptionValues {
  return {
    isGiven: (option) => given.some((one) => one.flags === option.flags),
    get: (option) => (given.some((one) => one.flags === option.flags) ? option.parse("") : undefined),
  };
}

/** What a run of a thousand steps shows, each of which takes some milliseconds. */
async function shown(
  { isTerminal = true, milliseconds = 10 },
  given: readonly OptionDefinition<boolean>[] = [],
): Promise<string[]> {
  const lines: string[] = [];
  let now = 0;
  const context = { stderr: streamThat(isTerminal, lines) };
  const progress = progressLine(context, optionsWith(given), () => now);
  for (let done = 1; done <= 1000; done++) {
    now += milliseconds;
    await progress.watch("pages", done, 1000);
  }
  await progress.end();
  return lines;
}

/** What progress is told, and when it ends. */
function toldTo(said: string[]): Progress {
  return {
    async watch(what, done, all) {
      said.push(`${what} ${done}/${all}`);
    },
    async end() {
      said.push("end");
    },
  };
}

describe("progressLine", () => {
  it("comes after a second, moves ten times a second at most, and goes at the end", async () => {
    const lines = await shown({ milliseconds: 10 });
    expect(lines[0]).toBe("pages: 101 of 1000");
    expect(lines[1]).toBe("pages: 111 of 1000");
    expect(lines.at(-2)).toBe("pages: 991 of 1000");
    expect(lines.at(-1)).toBe("");
    expect(lines).toHaveLength(91);
    expect(await shown({ milliseconds: 400 })).toHaveLength(999);
  });

  it("does not come for work of less than a second", async () => {
    expect(await shown({ milliseconds: 0.9 })).toEqual([]);
  });

  it("is silent in a pipe and when nobody wants it", async () => {
    expect(await shown({ isTerminal: false })).toEqual([]);
    expect(await shown({}, [noProgressOption])).toEqual([]);
    expect(await shown({}, [quietOption])).toEqual([]);
  });
});

describe("progressBesideRows", () => {
  it.each([
    { isTerminal: true, plan: { path: undefined, format: "csv" }, isSilent: true },
    { isTerminal: true, plan: { path: undefined, format: "table" }, isSilent: false },
    { isTerminal: true, plan: { path: "out.csv", format: "csv" }, isSilent: false },
    { isTerminal: false, plan: { path: undefined, format: "csv" }, isSilent: false },
  ] as const)("is silent only where rows go to the terminal one by one ($plan)", async (one) => {
    const lines: string[] = [];
    const context = { stderr: streamThat(true, lines), stdout: streamThat(one.isTerminal, []) };
    const options = optionsWith([]);
    const progress = progressBesideRows(context as CommandContext, options, one.plan, () => 5000);
    await progress.watch("samples", 1, 2);
    expect(lines).toEqual(one.isSilent ? [] : ["samples: 1 of 2"]);
  });
});

describe("watched", () => {
  it("gives every item on, tells of each, and ends behind the last", async () => {
    const said: string[] = [];
    const items: string[] = [];
    for await (const item of watched(["a", "b"], toldTo(said), "letters", 2)) items.push(item);
    expect(items).toEqual(["a", "b"]);
    expect(said).toEqual(["letters 1/2", "letters 2/2", "end"]);
  });
});

describe("watchedInputs", () => {
  const bytes = new Uint8Array(1_500_000);

  it("tells of all inputs together as they are read, and ends with the last", async () => {
    const said: string[] = [];
    const sized = ["a.csv", "b.csv"].map((name) => ({ ...inputFromBytes(name, bytes), size: bytes.length }));
    const [first, second] = watchedInputs(sized, toldTo(said));
    const read = (await first?.bytes()) ?? new Uint8Array();
    expect(Buffer.compare(read, bytes)).toBe(0);
    expect(said).toEqual(["megabytes read 2/3"]);
    for await (const chunk of second?.chunks() ?? []) expect(chunk).toHaveLength(bytes.length);
    expect(said).toEqual(["megabytes read 2/3", "megabytes read 3/3", "end"]);
  });

  it("says nothing where the size of one is not known", async () => {
    const said: string[] = [];
    const inputs = [{ ...inputFromBytes("a.csv", bytes), size: bytes.length }, inputFromBytes("-", bytes)];
    for (const input of watchedInputs(inputs, toldTo(said))) await input.bytes();
    expect(said).toEqual([]);
  });
});
