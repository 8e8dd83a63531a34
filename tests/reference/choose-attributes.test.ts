import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { FindingCollector } from "../../src/findings/collector.ts";
import { chooseAttributes } from "../../src/reference/choose-attributes.ts";
import { freshFolder } from "../helpers/run-jartally.ts";
import { SHIPPED, shippedSet } from "../helpers/sets.ts";

/** The set West Virginia 2000 with attribute tables named, `mine.csv` holding the text given. */
async function choose(words: readonly string[], mine = "taxon,value\nBaetidae,4\n") {
  const cwd = freshFolder();
  writeFileSync(join(cwd, "mine.csv"), mine);
  const findings = new FindingCollector();
  const set = await chooseAttributes(
    await shippedSet("west-virginia-family-2000"),
    words,
    SHIPPED,
    cwd,
    findings,
  );
  return { set, said: findings.all.map((one) => `${one.line}:${one.column} ${one.code} ${one.message}`) };
}

const NOT_HELD =
  "0:0 attributes-not-held tolerance: the method's own list (family tolerance values of the West Virginia index) is not held";

describe("attribute tables that the user names", () => {
  it("are needed where the method's list is not held", async () => {
    expect(await choose([])).toEqual({ set: undefined, said: [NOT_HELD] });
  });

  it("may be a shared scheme or a file, which the set then names as a stand-in", async () => {
    const scheme = (await choose(["rbp1999-northwest"])).set;
    expect(scheme?.standIns).toEqual([
      {
        attribute: "tolerance",
        from: "rbp1999-northwest",
        insteadOf: "family tolerance values of the West Virginia index",
      },
    ]);
    const file = (await choose(["mine.csv"])).set;
    expect(file?.attributes.get("tolerance")?.values.get("Baetidae")?.text).toBe("4");
    expect(file?.standIns.map((one) => one.from)).toEqual(["mine.csv"]);
  });

  it("change the hash, each in its own way", async () => {
    const own = (await shippedSet("west-virginia-family-2000")).hash;
    const hashes = [
      own,
      (await choose(["rbp1999-northwest"])).set?.hash,
      (await choose(["rbp1999-midwest"])).set?.hash,
      (await choose(["mine.csv"])).set?.hash,
      (await choose(["mine.csv"], "taxon,value\nBaetidae,5\n")).set?.hash,
    ];
    expect(new Set(hashes).size).toBe(hashes.length);
  });

  it("leave a set that holds its own list as it is when none is named", async () => {
    const set = await shippedSet("vennaloo-demo");
    expect(await chooseAttributes(set, [], SHIPPED, "/", new FindingCollector())).toBe(set);
  });

  it.each([
    [
      ["rbp1999-northwst"],
      '0:0 bad-attributes there is no attribute scheme "rbp1999-northwst"; did you mean "rbp1999-northwest"',
    ],
    [["habit"], "0:0 bad-attributes the set west-virginia-family-2000 uses no habit"],
    [
      ["bmwp-1983"],
      "0:0 bad-attributes its numbers run the other way round than family tolerance values of the West Virginia index: higher-is-sensitive",
    ],
  ])("%j is refused", async (words, message) => {
    const { set, said } = await choose(words);
    expect(set).toBe(undefined);
    expect(said[0]?.startsWith(message)).toBe(true);
    expect(said[1]).toBe(NOT_HELD);
  });

  it.each([
    ["taxon,value\nBaetidae,4,5\n", "2:3 bad-attributes the row has 3 cells and the header 2"],
    ['taxon,value\nBaetidae,"4,5"\n', '2:2 bad-attributes "4,5" is not a plain number such as 4 or 5.35'],
    [
      "taxon,value\nBaetidae,4.3333333\n",
      '2:2 bad-attributes "4.3333333" has more than six decimals; round it',
    ],
    ["taxon,value\nBaetidae,\n", "2:2 bad-attributes the cell is empty"],
    ["taxon,value\nBaetidae,4\nBaetidae,5\n", "3:1 bad-attributes Baetidae has a tolerance already"],
    ["taxon,number\nBaetidae,4\n", '1:2 bad-attributes "number" is no column of this table'],
    [
      "taxon,value,attribute\nBaetidae,4,tolerence\n",
      '2:3 bad-attributes "tolerence" is no attribute; did you mean "tolerance"?',
    ],
  ])("the file %j is refused at its cell", async (text, message) => {
    const { set, said } = await choose(["mine.csv"], text);
    expect(set).toBe(undefined);
    expect(said).toContain(message);
  });

  it("warn of a taxon that the tree does not have", async () => {
    const { set, said } = await choose(["mine.csv"], "taxon,value\nBetidae,4\n");
    expect(set?.standIns.length).toBe(1);
    expect(said.map((one) => one.split(" ")[1])).toEqual(["unknown-set-taxon"]);
  });
});
