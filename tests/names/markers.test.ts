import { describe, expect, it } from "vitest";
import { lookupKey } from "../../src/names/lookup-key.ts";
import type { Peeled } from "../../src/names/markers.ts";
import { MarkerReader } from "../../src/names/markers.ts";
import { synonym } from "./small-tables.ts";

// What markers mean is common practice of bench sheets, no source.

/** One marker taken off, in one line: what is left, stage, doubts. */
function brief(peeled: Peeled | undefined): string | undefined {
  if (peeled === undefined) return undefined;
  return [peeled.rest, peeled.stage, ...peeled.doubts].filter((part) => part !== undefined).join(" | ");
}

const peel = (name: string) => brief(new MarkerReader([]).peel(lookupKey(name)));

describe("a marker of a name", () => {
  it.each<[string, string | undefined]>([
    // in brackets: letters and abbreviations are stages there
    ["Baetis (L)", "baetis | larva"],
    ["Baetis (imm.)", "baetis | larva"],
    ["Baetis (unknown)", "baetis | unknown"],
    ["Baetis (cast skins)", "baetis | exuviae"],
    ["Baetis (larvae & adults)", "baetis | two life stages in one row (larvae & adults)"],
    ["Baetis (L/A)", "baetis | two life stages in one row (l/a)"],
    ["Baetis (cf.)", 'baetis | "cf."'],
    ["Baetis (?)", 'baetis | "?"'],
    ["Baetis (damaged)", "baetis"],
    ["Baetis (group)", "baetis group"],
    ["Baetis (Rhodobaetis)", undefined],
    ["Baetis (L) tricaudatus", undefined],
    ["Baetis (unknown & larvae)", undefined],
    // behind the name
    ["Baetis sp.", "baetis"],
    ["Baetis gen. et sp.", "baetis"],
    ["Baetis late instars", "baetis"],
    ["Baetis tricaudatus nymphs", "baetis tricaudatus | nymph"],
    ["Baetis winged adults", "baetis | adult"],
    ["Baetis egg", "baetis | egg"],
    ["Baetis larvae & pupae", "baetis | two life stages in one row (larvae & pupae)"],
    ["Baetis larvae and pupae", "baetis | two life stages in one row (larvae and pupae)"],
    ["Baetis larvae + pupae", "baetis | two life stages in one row (larvae + pupae)"],
    ["Baetis larvae/pupae", "baetis | two life stages in one row (larvae/pupae)"],
    // a remark beside a name is no stage, a bare letter may be anything, "unknown" says nothing
    ["Baetis immature", "baetis"],
    ["Baetis L", undefined],
    ["Baetis unknown", undefined],
    ["Baetis larvae & foo", undefined],
    ["Baetis", undefined],
    // in front of it
    ["Immature Baetis", "baetis"],
    ["Early instar Baetis tricaudatus", "baetis tricaudatus"],
    ["Family Baetidae", "baetidae"],
    ["Larval Baetis", "baetis | larva"],
    ["Egg mass Baetis", "baetis | egg"],
    ["L. Baetis", undefined],
    // doubts, wherever they stand; "sp." beside one goes with it when the species follows
    ["cf. Baetis tricaudatus", 'baetis tricaudatus | "cf."'],
    ["Baetis (nr.) tricaudatus", 'baetis tricaudatus | "nr."'],
    ["Baetis sp. nr. tricaudatus", 'baetis tricaudatus | "nr."'],
    ["Baetis spp. nr. tricaudatus", 'baetis tricaudatus | "nr."'],
    ["Baetis wasp nr. tricaudatus", 'baetis wasp tricaudatus | "nr."'],
    ["Baetis spinosus nr. tricaudatus", 'baetis spinosus tricaudatus | "nr."'],
    ["sp. nr. Baetis", 'sp baetis | "nr."'],
    ["Baetis sp. nr.", 'baetis sp | "nr."'],
    // the one at the end first
    ["cf. Baetis (?)", 'cf baetis | "?"'],
    ["Probably Baetis", 'baetis | "probably"'],
    ["?", undefined],
    ["cf.", undefined],
  ])("%j: %s", (name, expected) => {
    expect(peel(name)).toBe(expected);
  });

  it("comes off one after the other, down to the bare name", () => {
    const reader = new MarkerReader([]);
    expect(reader.forms(lookupKey("Unidentified Baetis sp. (L)"))).toEqual([
      "unidentified baetis sp (l)",
      "unidentified baetis sp",
      "unidentified baetis",
      "baetis",
    ]);
    expect(reader.forms("baetis")).toEqual(["baetis"]);
  });
});

describe("markers of the synonym table", () => {
  const suffix = (name: string, reason: string) => synonym(name, "", "suffix", [], `suffix: ${reason}`);
  const reader = () =>
    new MarkerReader([
      suffix("(teneral)", "life stage: strip and record stage=adult"),
      suffix("cast-off", "life stage: strip and record stage=exuviae"),
      suffix("small stone case", "empty: not an organism, do not count"),
      suffix("mangled", "condition note: strip"),
      suffix("slide 7", "strip, stage of the note is not for us"),
      suffix("group", "species group: use the named species"),
      suffix("(larvae & pupae)", "mixed life stages: strip"),
      suffix("(A)", "life stage: strip and record stage=larva"),
      suffix("cf.", "uncertain name: strip"),
      synonym("squashed", "Baetis", "vernacular"),
    ]);
  const read = (name: string) => brief(reader().peel(lookupKey(name)));

  it.each<[string, string | undefined]>([
    // the stage that the row says, in brackets and without
    ["Baetis (teneral)", "baetis | adult"],
    ["Baetis teneral", "baetis | adult"],
    ["Baetis cast-off", "baetis | exuviae"],
    // what does not count is the empty case or shell that the last word names
    ["Baetis small stone case", "baetis | case"],
    // anything else is a remark
    ["Baetis mangled", "baetis"],
    ["Baetis (mangled)", "baetis"],
    ["Baetis slide 7", "baetis"],
    // what was known before stays as it was: groups, mixed stages, stages, doubts
    ["Baetis group", undefined],
    ["Baetis (larvae & pupae)", "baetis | two life stages in one row (larvae & pupae)"],
    ["Baetis (A)", "baetis | adult"],
    ["Baetis cf.", 'baetis | "cf."'],
    // rows of other kinds are no markers
    ["Baetis squashed", undefined],
  ])("%j: %s", (name, expected) => {
    expect(read(name)).toBe(expected);
  });

  it("are not known without their row", () => {
    expect(peel("Baetis (teneral)")).toBe(undefined);
    expect(peel("Baetis mangled")).toBe(undefined);
  });
});
