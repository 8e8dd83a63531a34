import { describe, expect, it } from "vitest";
import type { LifeStage } from "../../src/model/life-stage.ts";
import { LIFE_STAGES, parseLifeStage } from "../../src/model/life-stage.ts";

describe("life stages as people write them", () => {
  it.each(LIFE_STAGES)("%s is itself, in any case", (stage) => {
    expect([parseLifeStage(stage), parseLifeStage(` ${stage.toUpperCase()} `)]).toEqual([stage, stage]);
  });

  // Common practice, no source: a subimago flies; a skin that was left is no animal, whichever stage left it.
  it.each<[string, LifeStage]>([
    ["subimago", "adult"],
    ["Subimagines", "adult"],
    ["pupal exuviae", "exuviae"],
    ["Pupal  skin", "exuviae"],
    ["pupal skins", "exuviae"],
    ["larval exuvium", "exuviae"],
    ["nymphal shuck", "exuviae"],
    ["cast skin", "exuviae"],
    ["shucks", "exuviae"],
    ["L.", "larva"],
    ["imm", "larva"],
  ])("%s is %s", (text, stage) => expect(parseLifeStage(text)).toBe(stage));

  it.each(["pupal", "subadult x", "skin of a pupa", "l.a.", ".l", "__proto__", "constructor"])(
    "%s is none",
    (text) => expect(parseLifeStage(text)).toBe(undefined),
  );
});
