import { describe, expect, it } from "vitest";
import { readWritten, usableSet } from "../helpers/sets.ts";

/** Findings of a set that cannot be used, as "file:line:column code message". */
async function faults(files: Parameters<typeof readWritten>[0]): Promise<string[]> {
  const { set, findings } = await readWritten(files);
  expect(set).toBe(undefined);
  return findings.map((one) => `${one.file}:${one.line}:${one.column} ${one.code} ${one.message}`);
}

/** Messages without their places. */
const messages = async (files: Parameters<typeof readWritten>[0]) =>
  (await faults(files)).map((text) => text.replace(/^\S+ /, ""));

describe("taxa.csv", () => {
  const set = { attributes: { tolerance: { scheme: "rbp1999-northwest" } } } as const;

  it("wins over the shared table, row by row", async () => {
    const read = await usableSet({ set, taxa: ["Baetis,tolerance,9.5,,,"] });
    const values = read.attributes.get("tolerance")?.values;
    expect([values?.get("Baetis")?.text, values?.get("Hydra")?.text]).toEqual(["9.5", "5"]);
  });

  it("makes a list of its own, with families scored as others", async () => {
    const read = await usableSet({
      set: {
        attributes: {
          tolerance: { own: true, list: "mine", min: 0, max: 10, direction: "higher-is-tolerant" },
          habit: { own: true, list: "mine too" },
        },
      },
      taxa: [
        "Baetidae,tolerance,4,,,",
        "Baetidae,habit,swimmer,,,",
        "Ameletidae,score_as,Baetidae,,,",
        "Siphlonuridae,score_as:tolerance,Baetidae,,,",
      ],
    });
    const [tolerance, habit] = [read.attributes.get("tolerance"), read.attributes.get("habit")];
    expect([...(tolerance?.scoreAs ?? [])]).toEqual([
      ["Ameletidae", "Baetidae"],
      ["Siphlonuridae", "Baetidae"],
    ]);
    expect([...(habit?.scoreAs ?? [])]).toEqual([["Ameletidae", "Baetidae"]]);
  });

  it.each([
    ["Baetis,tolerance,eleven,,,", "2:3", '"eleven" is not a plain number such as 4 or 5.35'],
    ["Baetis,tolerance,4.3333333,,,", "2:3", '"4.3333333" has more than six decimals; round it'],
    ["Baetis,tolerance,11,,,", "2:1", "the tolerance of Baetis is 11; the scale goes from 0 to 10"],
    ["Baetis,tolerence,4,,,", "2:2", '"tolerence" is no attribute; did you mean "tolerance"?'],
    ["Baetis,tolerance,,,,", "2:3", "the value of Baetis is missing"],
    [",tolerance,4,,,", "2:1", "a name is missing"],
    ["Baetis,habit,swimmer,,,", "2:1", "values of habit, but set.json does not name this attribute"],
    ["Baetis,score_as,Betidae,,,", "2:1", 'Baetis is scored as "Betidae", which is not in the tree of taxa'],
  ])("%s is refused", async (line, place, message) => {
    expect(await faults({ set, taxa: [line] })).toEqual([`bare/taxa.csv:${place} bad-set ${message}`]);
  });

  it.each([
    // Invented: two families, each scored as a genus of the other that has no value.
    [
      ["Ameletidae,score_as,Baetis,,,", "Baetidae,score_as,Ameletus,,,"],
      "2:1",
      "Ameletidae is scored as Baetis, whose tolerance comes from Ameletidae again; give Baetis a value of its own",
    ],
    [
      [
        "Ameletidae,tolerance,2,,,",
        "Ameletidae,score_as:tolerance,Baetis,,,",
        "Baetis,score_as:habit,Ameletidae,,,",
      ],
      "2:1",
      "Ameletidae is scored as Baetis for one attribute, and as itself again for another",
    ],
  ])("may not score %j, which leads back to the taxon", async (taxa, place, message) => {
    const both = {
      attributes: {
        tolerance: { own: true, list: "mine", direction: "higher-is-tolerant" },
        habit: { own: true, list: "mine" },
      },
    } as const;
    const found = await faults({ set: both, taxa });
    expect(found[0]).toBe(`bare/taxa.csv:${place} bad-set ${message}`);
  });

  it("may score a family as a genus of its own", async () => {
    const read = await usableSet({ set, taxa: ["Baetidae,score_as,Baetis,,,"] });
    expect(read.attributes.get("tolerance")?.scoreAs.get("Baetidae")).toBe("Baetis");
  });

  it("must give each value once", async () => {
    expect(await messages({ set, taxa: ["Baetis,tolerance,4,,,", "Baetis,tolerance,5,,,"] })).toEqual([
      'bad-set "Baetis" has this attribute twice',
    ]);
  });

  it("warns of a taxon that the tree does not have", async () => {
    const { findings } = await readWritten({ set, taxa: ["Betidae,tolerance,4,,,"] });
    expect(findings.map((one) => [one.severity, one.code])).toEqual([["warning", "unknown-set-taxon"]]);
    expect(findings[0]?.message).toContain('did you mean "Baetidae"');
  });

  it("must say how numbers run", async () => {
    const own = { attributes: { tolerance: { own: true, list: "mine" } } } as const;
    expect(await messages({ set: own, taxa: ["Baetis,tolerance,4,,,"] })).toEqual([
      "bad-set attributes.tolerance: say how the numbers run: direction higher-is-tolerant or higher-is-sensitive",
    ]);
  });

  it("may not give values of a list that is not held", async () => {
    const held = { attributes: { tolerance: { held: false, method_list: "theirs" } } } as const;
    expect(await messages({ set: held, taxa: ["Baetis,tolerance,4,,,"] })).toEqual([
      "bad-set values of tolerance, but set.json says that the list is not held",
    ]);
  });
});

describe("groups", () => {
  const groups = { naming: "groups", level: { rank: "as-named" } } as const;

  it("are the names of taxa.csv with their other names", async () => {
    const set = await usableSet({
      set: groups,
      taxa: ["Mayfly,,,,,", "Mayfly,also_called,mayflies,,,", "Midge,,,,,"],
    });
    expect(set.groups.names).toEqual(["Mayfly", "Midge"]);
    expect([...set.groups.alsoCalled]).toEqual([["mayflies", "Mayfly"]]);
  });

  it("need names and no ranks", async () => {
    expect(await messages({ set: { ...groups, level: { rank: "genus" } } })).toEqual([
      "bad-set naming groups needs a taxa.csv that names the groups",
      'bad-set level: groups have no ranks; write {"rank": "as-named"}',
    ]);
    expect(await messages({ taxa: ["Baetis,also_called,blue wings,,,"] })).toEqual([
      'bad-set naming: also_called in taxa.csv is for groups (naming "groups")',
    ]);
  });
});
