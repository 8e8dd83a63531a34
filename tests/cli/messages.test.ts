import { describe, expect, it } from "vitest";
import { groupFindings } from "../../src/cli/finding-groups.ts";
import { printFindings } from "../../src/cli/messages.ts";
import type { Finding } from "../../src/findings/finding.ts";
import { finding } from "../../src/findings/finding.ts";

function fault(line: number, message: string, sampleId = "", file = "s.csv"): Finding {
  return finding("unknown-taxon", { file, line, column: 2 }, { message, sampleId, hint: "correct it" });
}

async function printed(findings: readonly Finding[], mostPerCode = 5): Promise<string[]> {
  let text = "";
  const write = async (piece: string) => {
    text += piece;
  };
  const stream = { write, status: async () => {}, isTerminal: false, width: 80, isClosed: false };
  await printFindings(findings, stream, { isColoured: false, isQuiet: false, mostPerCode });
  return text.split("\n").filter((line) => line !== "");
}

describe("findings as printed", () => {
  it("that say the same of several rows stand once, with the other lines", async () => {
    expect(await printed([fault(4, '"Betis" is unknown', "A"), fault(9, '"Betis" is unknown', "B")])).toEqual(
      ['s.csv:4:2 error unknown-taxon "Betis" is unknown; also in line 9 (correct it)', "findings: 2 errors"],
    );
  });

  it("that say the same of several samples name them", async () => {
    const lines = Array.from({ length: 8 }, (_, at) => fault(at + 1, `sample S${at} has none`, `S${at}`));
    expect((await printed(lines))[0]).toBe(
      "s.csv:1:2 error unknown-taxon sample S0 has none; the same for S1, S2, S3, S4, S5 and 2 more (correct it)",
    );
  });

  it.each([
    ["of signs that mean something to a pattern", "A.*(", "[B]+"],
    ["ending in a letter of two units", "A\u{10400}", "B\u{10400}"],
  ])("find samples whose ids are %s", (_, one, other) => {
    const groups = groupFindings([
      fault(1, `sample ${one} has none`, one),
      fault(2, `sample ${other} has none`, other),
    ]);
    expect(groups.map(({ count, elsewhere }) => [count, elsewhere])).toEqual([
      [2, `; the same for ${other}`],
    ]);
  });

  it("take an id as long as a file, of which a message holds the beginning only", () => {
    const long = "x".repeat(70_000);
    const two = [fault(1, `sample ${long} has none`, long), fault(2, `sample ${long}y has none`, `${long}y`)];
    expect(groupFindings(two).map(({ elsewhere }) => elsewhere)).toEqual(["; also in line 2"]);
  });

  it("find a sample only where its id stands for itself", () => {
    const apart = [fault(1, "sample 1: 12 of Abedus", "1"), fault(2, "sample 2: 22 of Abedus", "2")];
    expect(groupFindings(apart).length).toBe(2);
    const alike = [fault(1, "sample 1: 12 of 1", "1"), fault(2, "sample 2: 12 of 2", "2")];
    expect(groupFindings(alike).length).toBe(1);
    const astral = [fault(1, "A\u{10400} A", "A"), fault(2, "A\u{10400} B", "B")];
    expect(groupFindings(astral).length).toBe(1);
  });

  it("that differ in more than the sample, the file or the severity stay apart", () => {
    const three = [fault(1, "a", "A"), fault(2, "b", "A"), fault(1, "a", "A", "t.csv")];
    expect(groupFindings(three).map(({ count }) => count)).toEqual([1, 1, 1]);
  });

  it("of many things at one place are a list", async () => {
    const many = ["Abedus", "Baetis", "Caenis", "Drunella"].map((name) => fault(7, `tolerance of ${name}`));
    expect((await printed(many))[0]).toBe(
      "s.csv:7:2 error unknown-taxon tolerance of Abedus, Baetis, Caenis and Drunella (correct it)",
    );
    expect(await printed(many.slice(1))).toHaveLength(4);
  });

  it("go on with a sentence behind a question", async () => {
    expect((await printed([fault(1, "did you mean x?"), fault(2, "did you mean x?")]))[0]).toBe(
      "s.csv:1:2 error unknown-taxon did you mean x? Also in line 2 (correct it)",
    );
  });

  it("are all counted, however few are printed", async () => {
    const findings = [fault(1, "a"), fault(2, "a"), fault(3, "b"), fault(4, "c"), fault(5, "c")];
    expect(await printed(findings, 1)).toEqual([
      "s.csv:1:2 error unknown-taxon a; also in line 2 (correct it)",
      "... and 3 more unknown-taxon",
      "findings: 5 errors",
    ]);
    expect((await printed(findings, 0))[0]).toBe("... and 5 more unknown-taxon");
  });
});
