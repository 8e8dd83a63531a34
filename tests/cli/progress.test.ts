import { describe, expect, it } from "vitest";
import type { CommandContext } from "../../src/cli/context.ts";
import type { OptionDefinition, OptionValues } from "../../src/cli/define.ts";
import { noProgressOption, quietOption } from "../../src/cli/options/messages.ts";
import { progressLine } from "../../src/cli/progress.ts";

/** What a run of a thousand steps prints. */
async function printed(
  isTerminal: boolean,
  given: readonly OptionDefinition<boolean>[] = [],
): Promise<string[]> {
  const texts: string[] = [];
  const stderr = {
    isTerminal,
    width: 80,
    isClosed: false,
    async write(text: string) {
      texts.push(text);
    },
  };
  const options: OptionValues = {
    isGiven: (option) => given.some((one) => one.flags === option.flags),
    get: (option) => (given.some((one) => one.flags === option.flags) ? option.parse("") : undefined),
  };
  const context: Pick<CommandContext, "stderr"> = { stderr };
  const progress = progressLine(context, options, "pages");
  for (let done = 1; done <= 1000; done++) await progress.step(done, 1000);
  await progress.end();
  return texts;
}

describe("progressLine", () => {
  it("is written over itself on a terminal, at most once a percent, and goes at the end", async () => {
    const texts = await printed(true);
    expect(texts).toHaveLength(101);
    expect(texts[0]).toBe("\r\x1b[Kpages: 10 of 1000");
    expect(texts.at(-2)).toBe("\r\x1b[Kpages: 1000 of 1000");
    expect(texts.at(-1)).toBe("\r\x1b[K");
  });

  it("is silent in a pipe and when nobody wants it", async () => {
    expect(await printed(false)).toEqual([]);
    expect(await printed(true, [noProgressOption])).toEqual([]);
    expect(await printed(true, [quietOption])).toEqual([]);
  });
});
