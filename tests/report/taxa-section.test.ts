import { describe, expect, it } from "vitest";
import { sensitiveFirst, taxaSection } from "../../src/report/taxa-section.ts";
import { wordsOf } from "./page-words.ts";
import { reportSample } from "./report-sample.ts";

describe("taxa", () => {
  const { taxa } = reportSample();
  const first = (direction: "higher-is-tolerant" | "higher-is-sensitive" | "") =>
    sensitiveFirst(taxa, direction).map(({ group }) => group);

  it("stand with the sensitive ones first, by the direction of the values", () => {
    expect(first("higher-is-tolerant")).toEqual(["stoneflies", "non-biting midges"]);
    expect(first("higher-is-sensitive")).toEqual(["non-biting midges", "stoneflies"]);
    expect(first("")).toEqual(["non-biting midges", "stoneflies"]);
    const unknown = { taxon: "Aaa", group: "", count: 1, share: 0, tolerance: undefined };
    expect(sensitiveFirst([unknown, ...taxa], "higher-is-tolerant").map(({ group }) => group)).toEqual([
      "stoneflies",
      "non-biting midges",
      "other animals",
    ]);
  });

  it("are named with their values, and without where the set has none", () => {
    expect(wordsOf(taxaSection(taxa, "higher-is-tolerant", "Taxa")?.text ?? "")).toContain(
      "The most sensitive animals found: Leuctra (stoneflies) 0, Chironomidae (non-biting midges) 6.",
    );
    expect(taxaSection(taxa, "", "Taxa")?.text).not.toContain("tolerance");
  });

  it("are named from the other end of a scale that runs the other way, without a group where there is none", () => {
    const groupless = taxa.map((one) => ({ ...one, group: one.taxon === "Leuctra" ? "" : one.group }));
    const words = wordsOf(taxaSection(groupless, "higher-is-sensitive", "Taxa")?.text ?? "");
    expect(words).toContain(
      "The most sensitive animals found: Chironomidae (non-biting midges) 6, Leuctra 0. Of the tolerance values, a high value",
    );
  });

  it("without a value are said to have none, and none of them is called sensitive", () => {
    const unknown = [{ taxon: "A", group: "flies", count: 1, share: 100, tolerance: undefined }];
    const words = wordsOf(taxaSection(unknown, "higher-is-tolerant", "Taxa")?.text ?? "");
    expect(words).toContain("flies A 1 100 no value");
    expect(words).not.toContain("most sensitive");
    expect(taxaSection([], "higher-is-tolerant", "Taxa")).toBeUndefined();
  });

  it("say the share of a group of several, and show each share as a bar of that length", () => {
    const flies = [
      { taxon: "A", group: "flies", count: 1, share: 12.5, tolerance: 2 },
      { taxon: "B", group: "flies", count: 1, share: 30, tolerance: 1 },
    ];
    const text = taxaSection(flies, "higher-is-tolerant", "Taxa")?.text ?? "";
    expect(wordsOf(text)).toContain("flies 42.5 % B 1 30 1 A 1 12.5 2");
    // 80 pixels are all animals.
    expect([...text.matchAll(/rect width="([\d.]+)"/g)].map(([, width]) => width)).toEqual(["24", "10"]);
  });
});
