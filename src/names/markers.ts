import { at } from "../model/at.ts";
import type { LifeStage } from "../model/life-stage.ts";
import { parseLifeStage } from "../model/life-stage.ts";
import { lookupKey } from "./lookup-key.ts";
import type { SynonymRow } from "./synonyms.ts";

/** What the words around a name say about the animals; none of it changes the taxon. */
export interface Marks {
  readonly stage?: LifeStage | undefined;
  /** The words that cast doubt ("cf.", "?", two stages in one), as they are to be shown. */
  readonly doubts: readonly string[];
}

export const NO_MARKS: Marks = { doubts: [] };

/** A key with one marker taken off. */
export interface Peeled extends Marks {
  readonly rest: string;
}

/** Words behind a name that say how it was identified: "sp.", "indet.", "imm.", "damaged". */
const TRAILING_REMARKS = new Set([
  "sp",
  "spp",
  "ssp",
  "species",
  "indet",
  "undet",
  "undetermined",
  "unid",
  "unidentified",
  "unidentifiable",
  "imm",
  "immature",
  "immatures",
  "juv",
  "juvenile",
  "juveniles",
  "damaged",
  "small",
  "early instar",
  "early instars",
  "late instar",
  "late instars",
  "et sp",
  "gen sp",
  "genus sp",
  "gen et sp",
]);

/** The same in front of a name. */
const LEADING_REMARKS = new Set([
  "undetermined",
  "undet",
  "unidentified",
  "unid",
  "unknown",
  "indet",
  "immature",
  "imm",
  "juvenile",
  "juv",
  "damaged",
  "small",
  "early instar",
]);

/** Stages as adjectives or in two words, beyond the spellings of a stage column. */
const STAGE_WORDS: ReadonlyMap<string, LifeStage> = new Map([
  ["larval", "larva"],
  ["nymphal", "nymph"],
  ["pupal", "pupa"],
  ["imagos", "adult"],
  ["imagines", "adult"],
  ["winged adult", "adult"],
  ["winged adults", "adult"],
  ["subimago", "adult"],
  ["egg mass", "egg"],
  ["egg masses", "egg"],
  ["exuvium", "exuviae"],
  ["pupal exuviae", "exuviae"],
  ["larval exuviae", "exuviae"],
  ["cast skin", "exuviae"],
  ["cast skins", "exuviae"],
  ["empty shells", "shell"],
  ["empty cases", "case"],
]);

/** Words that say "like this one", "perhaps this one". */
const DOUBTS: ReadonlyMap<string, string> = new Map([
  ["cf", "cf."],
  ["nr", "nr."],
  ["near", "near"],
  ["aff", "aff."],
  ["prob", "prob."],
  ["probably", "probably"],
  ["poss", "poss."],
  ["possibly", "possibly"],
  ["?", "?"],
]);

/** Ranks in front of a name: "Family Baetidae", "Fam. Baetidae". */
const RANK_WORDS = new Set([
  "phylum",
  "class",
  "order",
  "ord",
  "family",
  "fam",
  "subfamily",
  "tribe",
  "genus",
]);

/** A word or words that stand in brackets as a whole. */
const BRACKETS = /^\((.*)\)$/u;

/** Takes the markers off names, one after the other; markers of the synonym table join the built-in ones. */
export class MarkerReader {
  readonly #trailing = new Set(TRAILING_REMARKS);
  readonly #stages = new Map(STAGE_WORDS);

  constructor(synonyms: readonly SynonymRow[]) {
    for (const row of synonyms) {
      if (row.kind !== "suffix") continue;
      const words = lookupKey(row.name).replace(BRACKETS, "$1");
      if (this.#stageOf(words, true) !== undefined || DOUBTS.has(words)) continue;
      const remains = row.reason.includes("do not count") ? words.split(" ").at(-1) : undefined;
      const stage = parseLifeStage(/\bstage=(\w+)/u.exec(row.reason)?.[1] ?? remains ?? "-");
      if (stage !== undefined) this.#stages.set(words, stage);
      else if (!GROUP_WORDS.has(words) && !isMixedStages(words)) this.#trailing.add(words);
    }
  }

  /** Takes one marker off a key: from its end, else from its front, else a doubt from its middle. */
  peel(key: string): Peeled | undefined {
    return this.#bracket(key) ?? this.#trailingWords(key) ?? this.#leadingWords(key) ?? doubt(key);
  }

  /** A key, the key without its last marker, and so on to the bare name. */
  forms(key: string): string[] {
    const forms = [key];
    for (let peeled = this.peel(key); peeled !== undefined; peeled = this.peel(peeled.rest))
      forms.push(peeled.rest);
    return forms;
  }

  #bracket(key: string): Peeled | undefined {
    const match = /^(.+) \(([^()]+)\)$/u.exec(key);
    if (match === null) return undefined;
    const rest = at(match, 1);
    const inside = at(match, 2);
    const stage = this.#stageOf(inside, true);
    if (stage !== undefined) return { rest, stage, doubts: [] };
    if (isMixedStages(inside)) return { rest, doubts: [`two life stages in one row (${inside})`] };
    const shown = DOUBTS.get(inside);
    if (shown !== undefined) return { rest, doubts: [`"${shown}"`] };
    if (this.#trailing.has(inside)) return { rest, doubts: [] };
    // "(group)" is read as the bare word, which makes a species group of the name.
    return GROUP_WORDS.has(inside) ? { rest: `${rest} ${inside}`, doubts: [] } : undefined;
  }

  #trailingWords(key: string): Peeled | undefined {
    const words = key.split(" ");
    for (let length = Math.min(4, words.length - 1); length >= 1; length--) {
      const tail = words.slice(-length).join(" ");
      const rest = words.slice(0, -length).join(" ");
      const stage = this.#stageOf(tail, false);
      if (stage !== undefined) return { rest, stage, doubts: [] };
      if (isMixedStages(tail)) return { rest, doubts: [`two life stages in one row (${tail})`] };
      if (this.#trailing.has(tail)) return { rest, doubts: [] };
    }
    return undefined;
  }

  #leadingWords(key: string): Peeled | undefined {
    const words = key.split(" ");
    for (let length = Math.min(2, words.length - 1); length >= 1; length--) {
      const head = words.slice(0, length).join(" ");
      const rest = words.slice(length).join(" ");
      if (LEADING_REMARKS.has(head) || RANK_WORDS.has(head)) return { rest, doubts: [] };
      const stage = this.#stageOf(head, false);
      if (stage !== undefined) return { rest, stage, doubts: [] };
    }
    return undefined;
  }

  /** Letters and short abbreviations are stages only in brackets: "Baetis A" may be a provisional species. */
  #stageOf(words: string, inBrackets: boolean): LifeStage | undefined {
    if (this.#trailing.has(words) && !inBrackets) return undefined;
    const known = this.#stages.get(words);
    if (known !== undefined) return known;
    if (!inBrackets && words.length < 4 && words !== "egg") return undefined;
    const stage = parseLifeStage(words);
    return stage === "unknown" && !inBrackets ? undefined : stage;
  }
}

/** Words that make a group of a name. */
export const GROUP_WORDS = new Set([
  "group",
  "gr",
  "grp",
  "gp",
  "complex",
  "cplx",
  "cmplx",
  "aggregate",
  "agg",
  "species group",
  "sp group",
  "sp gr",
  "species complex",
]);

/** "larvae & adults", "L/A": more than one stage in a marker. */
function isMixedStages(words: string): boolean {
  const stages = words.split(/ & | and |\/| \+ /u).map((part) => parseLifeStage(part));
  return stages.length > 1 && stages.every((stage) => stage !== undefined && stage !== "unknown");
}

/** Takes a word of doubt out of a key, wherever it stands; "sp." beside it goes too ("sp. nr. tricaudatus"). */
function doubt(key: string): Peeled | undefined {
  const words = key.split(" ");
  if (words.length < 2) return undefined;
  for (const [place, word] of words.entries()) {
    const shown = DOUBTS.get(word.replace(BRACKETS, "$1"));
    if (shown === undefined) continue;
    const before = words.slice(0, place);
    const after = words.slice(place + 1);
    if (after.length > 0 && before.length > 1 && /^spp?$/u.test(at(before, before.length - 1))) before.pop();
    return { rest: [...before, ...after].join(" "), doubts: [`"${shown}"`] };
  }
  return undefined;
}
