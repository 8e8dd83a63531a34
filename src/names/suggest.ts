import { distance } from "fastest-levenshtein";
import { at } from "../model/at.ts";
import { compareCodePoints } from "../model/order.ts";
import { lookupKey } from "./lookup-key.ts";
import type { NameIndex } from "./name-index.ts";

const MOST_SUGGESTIONS = 3;

/** How many letters may differ before a name is no longer close: one in a short name, three in a long one. */
export function closeLimit(length: number): number {
  if (length <= 3) return 1;
  return length <= 6 ? 2 : 3;
}

interface Candidate {
  readonly key: string;
  /** The letters the key holds, one bit each: two keys that differ in many letters need not be compared. */
  readonly letters: number;
  /** What is suggested: the taxon's or the group's own name. */
  readonly name: string;
}

/** Finds the known names close to an unknown one. */
export class NameSuggester {
  readonly #index: NameIndex;
  #candidates: readonly Candidate[] | undefined;

  constructor(index: NameIndex) {
    this.#index = index;
  }

  /**
   * Up to three names of the tables within the limit of `closeLimit`, nearest first, equally near ones in code
   * point order. A synonym that is close suggests the taxon it stands for.
   *
   * @param key as made by `lookupKey`
   */
  closest(key: string): string[] {
    const limit = closeLimit(key.length);
    const letters = lettersOf(key);
    const best = new Map<string, number>();
    for (const candidate of this.#all()) {
      if (Math.abs(candidate.key.length - key.length) > limit) continue;
      // One changed letter alters at most two bits.
      if (bitCount(candidate.letters ^ letters) > 2 * limit) continue;
      const away = distance(candidate.key, key);
      if (away <= limit && away < (best.get(candidate.name) ?? limit + 1)) best.set(candidate.name, away);
    }
    return [...best]
      .sort(([a, awayA], [b, awayB]) => awayA - awayB || compareCodePoints(a, b))
      .slice(0, MOST_SUGGESTIONS)
      .map(([name]) => name);
  }

  /** Species of the tree that an abbreviated genus may mean: "b tricaudatus" gives Baetis tricaudatus. */
  expandAbbreviation(key: string): string[] {
    const match = /^([a-z]) ([a-z]{3,})$/u.exec(key);
    if (match === null) return [];
    return this.#index.tree.names
      .filter((name) => name.toLowerCase().startsWith(at(match, 1)) && name.endsWith(` ${match[2]}`))
      .sort(compareCodePoints)
      .slice(0, MOST_SUGGESTIONS);
  }

  /** Whether a genus has a listed species whose epithet is close to this one. */
  hasCloseSpecies(genus: number, epithet: string): boolean {
    const { tree } = this.#index;
    const limit = closeLimit(epithet.length);
    return tree.names.some((name, taxon) => {
      if (!tree.isWithin(taxon, genus)) return false;
      const listed = name.split(" ")[1];
      return listed !== undefined && distance(listed, epithet) <= limit;
    });
  }

  #all(): readonly Candidate[] {
    this.#candidates ??= [
      ...this.#index.tree.names.map((name) => candidate(name, name)),
      ...this.#index.synonyms.flatMap((row) => {
        // A row about the name of a taxon (an ambiguous genus) suggests that taxon, not what it might be.
        if (row.kind === "suffix" || this.#index.taxonByKey(lookupKey(row.name)) !== undefined) return [];
        const isGroup = row.kind === "slash" || row.kind === "group";
        return [candidate(row.name, isGroup ? row.name : row.accepted)];
      }),
    ];
    return this.#candidates;
  }
}

function candidate(spelling: string, name: string): Candidate {
  const key = lookupKey(spelling);
  return { key, letters: lettersOf(key), name };
}

function lettersOf(key: string): number {
  let letters = 0;
  for (let i = 0; i < key.length; i++) {
    const letter = key.charCodeAt(i) - 0x61;
    letters |= letter >= 0 && letter < 26 ? 1 << letter : 1 << 26;
  }
  return letters;
}

function bitCount(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count++;
  return count;
}
