import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { numbers } from "../../helpers/mutate.ts";
import { freshFolder, REPOSITORY } from "../../helpers/run-jartally.ts";
import { COMMAND_LINES, keptCases, nextCase } from "./cases.ts";
import { faultOf, makeLab, placeCase } from "./judge.ts";
import { knownWords, TARGETS } from "./targets.ts";

const CORPUS = join(import.meta.dirname, "corpus");
/** The long form is `npm run fuzz -- MINUTES`. */
const CASES = 300;

let lab = "";
beforeAll(async () => {
  lab = join(freshFolder(), "lab");
  await makeLab(lab);
});

describe("the short form", () => {
  it(`${CASES} damaged files and odd command lines end as documented`, { timeout: 400_000 }, async () => {
    const place = join(freshFolder(), "case");
    const known = knownWords(REPOSITORY);
    const met = new Set<string>();
    for (let number = 1; number <= CASES; number++) {
      const one = nextCase(lab, known, numbers(number));
      met.add(one.target);
      placeCase(lab, place, one.file, one.bytes);
      expect(await faultOf(one.words, place, one.bytes), `case ${number}: ${one.words.join(" ")}`).toBe(
        undefined,
      );
    }
    expect([...met].sort()).toEqual([...TARGETS.map(({ name }) => name), COMMAND_LINES].sort());
  });
});

describe("what was once wrong", () => {
  const kept = readdirSync(CORPUS).filter((name) => name.includes("--"));
  it("is right now", { timeout: 300_000 }, async () => {
    const place = join(freshFolder(), "case");
    for (const name of kept) {
      for (const { words, file, bytes } of keptCases(name, readFileSync(join(CORPUS, name)))) {
        placeCase(lab, place, file, bytes);
        expect([name, words, await faultOf(words, place, bytes)]).toEqual([name, words, undefined]);
      }
    }
  });
});
