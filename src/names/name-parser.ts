import { at } from "../model/at.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import { RANKS } from "../model/taxon-tree.ts";
import { lookupKey } from "./lookup-key.ts";
import { GROUP_WORDS } from "./markers.ts";
import type { NameHit } from "./name-hit.ts";
import type { NameIndex } from "./name-index.ts";
import { groupNamedAfter, slashGroup, tableGroup, withoutNested } from "./operational.ts";
import { provisionalTaxon, readProvisional } from "./provisional.ts";
import type { NameWarning } from "./resolution.ts";
import type { NameSuggester } from "./suggest.ts";
import { plainReason, rowWarning } from "./synonym-warnings.ts";

const GENUS = RANKS.indexOf("genus");
const SLASH = /\/| or /u;

/** The lab's decision on a key; "refused" when the list's accepted name is not usable. */
type LabLookup = (key: string) => NameHit | "refused" | undefined;

/** Reads keys without markers: single names, subgenera, groups, provisional names, slashes. */
export class NameParser {
  readonly #index: NameIndex;
  readonly #tree: TaxonTree;
  readonly #suggester: NameSuggester;
  readonly #lab: LabLookup;

  constructor(index: NameIndex, suggester: NameSuggester, lab: LabLookup) {
    this.#index = index;
    this.#tree = index.tree;
    this.#suggester = suggester;
    this.#lab = lab;
  }

  read(key: string): NameHit | undefined {
    return this.#direct(key) ?? this.readGroup(key);
  }

  /** Slashes, species groups and provisional names; the last two may stand on a slash or a group in turn. */
  readGroup(key: string): NameHit | undefined {
    const row = this.#index.synonymByKey(key);
    if (row?.kind === "slash" || row?.kind === "group") {
      const hit = this.#synonym(key);
      if (hit !== undefined) return hit;
    }
    return this.#group(key) ?? this.#provisional(key) ?? this.#slash(key);
  }

  /**
   * What an accepted name of a lab's list is: a row of the tree, a slash group, species group or provisional name,
   * or a species that the tree does not list in a genus that it does. Synonyms and other spellings do not count:
   * the list decides, so it has to say exactly what it means.
   */
  readAccepted(accepted: string): NameHit | undefined {
    const taxon = this.#tree.numberOf(accepted);
    if (taxon !== undefined) return { taxon, via: "lab-list" };
    const hit = this.readGroup(lookupKey(accepted));
    if (hit?.operational !== undefined) return { ...hit, via: "lab-list", warning: undefined };
    const genus = this.unlistedSpecies(accepted);
    if (genus === undefined) return undefined;
    const parent = this.#tree.nameOf(genus);
    return {
      taxon: genus,
      operational: { name: accepted, parent, members: [], rank: "species" },
      via: "lab-list",
    };
  }

  /** The genus of a name that is written like a species of it and is not in the tree. */
  unlistedSpecies(name: string): number | undefined {
    const match = /^([A-Z][a-z]+) [a-z]{2,}(?:-[a-z]+)*$/u.exec(name);
    if (match === null) return undefined;
    const genus = this.#tree.numberOf(at(match, 1));
    if (genus === undefined || this.#tree.ranks[genus] !== GENUS) return undefined;
    return this.#tree.numberOf(name) === undefined ? genus : undefined;
  }

  /** "Baetis tricaudatus Dodds, 1923": the longest known start in front of an author and a year. */
  readWithAuthor(key: string): NameHit | undefined {
    const words = key.split(" ");
    if (!/^\(?1[789]\d\d\)?$|^\(?20\d\d\)?$/u.test(at(words, words.length - 1))) return undefined;
    for (let length = words.length - 2; length >= 1; length--) {
      const hit = this.#direct(words.slice(0, length).join(" "));
      if (hit !== undefined) return hit;
    }
    return undefined;
  }

  /** The taxon that the first words of a key name, when the whole is unknown: the genus of an unlisted species. */
  knownStart(key: string): number | undefined {
    const words = key.split(" ");
    for (let length = words.length - 1; length >= 1; length--) {
      const hit = this.#direct(words.slice(0, length).join(" "));
      if (hit !== undefined) return hit.taxon;
    }
    return undefined;
  }

  /** The parts of a group, slash or provisional name that no table knows. */
  unknownParts(key: string): string[] {
    const stem = groupStem(key) ?? readProvisional(key)?.stem ?? key;
    return slashParts(stem).filter((part) => this.#direct(part) === undefined);
  }

  #direct(key: string): NameHit | undefined {
    const decided = this.#lab(key);
    if (decided === "refused") return undefined;
    if (decided !== undefined) return decided;
    const taxon = this.#index.taxonByKey(key);
    if (taxon !== undefined) {
      const warning = rowWarning(this.#tree.nameOf(taxon), this.#index.synonymByKey(key), undefined);
      return { taxon, via: "spelling", warning };
    }
    return this.#synonym(key) ?? this.#subgenus(key);
  }

  #synonym(key: string): NameHit | undefined {
    const row = this.#index.synonymByKey(key);
    if (row === undefined) return undefined;
    if (row.kind === "slash" || row.kind === "group") {
      const operational = tableGroup(row, this.#index);
      if (operational === undefined) return undefined;
      return { taxon: this.#numberOf(operational.parent), operational, via: "spelling" };
    }
    const taxon = this.#tree.numberOf(row.accepted);
    if (taxon === undefined) return undefined;
    const warning = rowWarning(row.name, row, row.accepted);
    return { taxon, via: "synonym", warning, reason: plainReason(row) };
  }

  /** "Hydropsyche (Ceratopsyche) bronta", "Stenonema (Maccaffertium)": the part of it that is a taxon. */
  #subgenus(key: string): NameHit | undefined {
    const match = /^([a-z]+) \(([a-z]+)\)(?: ([a-z]+))?$/u.exec(key);
    if (match === null) return undefined;
    const [genus, subgenus, epithet] = [at(match, 1), at(match, 2), match[3]];
    const spellings = epithet === undefined ? [subgenus] : [`${genus} ${epithet}`, `${subgenus} ${epithet}`];
    const outer = this.#index.taxonByKey(genus);
    for (const spelling of spellings) {
      const taxon = this.#index.taxonByKey(spelling);
      // Both names must belong together: a bracket may hold anything.
      if (taxon !== undefined && outer !== undefined && this.#sameFamily(taxon, outer))
        return { taxon, via: "spelling" };
    }
    return undefined;
  }

  #group(key: string): NameHit | undefined {
    const stem = groupStem(key);
    if (stem === undefined) return undefined;
    // The table may know the group by another word for it: "gr." and "complex" say the same as "group".
    for (const word of ["group", "complex", "gr"]) {
      const listed = this.#index.synonymByKey(`${stem} ${word}`);
      if (listed?.kind === "group") return this.#synonym(`${stem} ${word}`);
    }
    const hit = this.#direct(stem) ?? this.#slash(stem);
    if (hit === undefined) return this.#unlistedGroup(stem);
    if (hit.operational !== undefined) return hit;
    if (at(this.#tree.ranks, hit.taxon) < GENUS) return undefined;
    const operational = groupNamedAfter(hit.taxon, this.#index);
    return { ...hit, taxon: this.#numberOf(operational.parent), operational };
  }

  /** A group of species that the tree does not list, in a genus that it does; close to a listed one it is a slip. */
  #unlistedGroup(stem: string): NameHit | undefined {
    const match = /^([a-z]+) ([a-z]{3,}(?:\/[a-z]{3,})*)$/u.exec(stem);
    if (match === null) return undefined;
    const genus = this.#direct(at(match, 1));
    if (genus === undefined || genus.operational !== undefined) return undefined;
    if (at(this.#tree.ranks, genus.taxon) !== GENUS) return undefined;
    const parent = this.#tree.nameOf(genus.taxon);
    const members: string[] = [];
    for (const epithet of at(match, 2).split("/")) {
      const listed = this.#direct(`${match[1]} ${epithet}`);
      if (listed !== undefined) members.push(this.#tree.nameOf(listed.taxon));
      else if (this.#suggester.hasCloseSpecies(genus.taxon, epithet)) return undefined;
    }
    const name = `${parent} ${match[2]} group`;
    const text = `the tree does not list the species of "${name}": kept as a taxon of its own under ${parent}`;
    const operational = { name, parent, members, rank: "species" } as const;
    return { ...genus, operational, warning: { kind: "uncertain", text } };
  }

  #provisional(key: string): NameHit | undefined {
    const parts = readProvisional(key);
    if (parts === undefined) return undefined;
    const hit = this.#direct(parts.stem) ?? this.#group(parts.stem);
    if (hit === undefined) return undefined;
    // The stem's rank must leave room: no "Baetis tricaudatus sp. A", no "Baetis genus 1".
    if (at(this.#tree.ranks, hit.taxon) >= RANKS.indexOf(parts.rank)) return undefined;
    const parent = this.#tree.nameOf(hit.taxon);
    const operational = provisionalTaxon(parent, parts);
    if (hit.operational === undefined) return { ...hit, operational };
    return { ...hit, operational: { ...operational, name: `${hit.operational.name} ${parts.ending}` } };
  }

  #slash(key: string): NameHit | undefined {
    const asWritten = key.split(SLASH);
    if (asWritten.length < 2) return undefined;
    const taxa: number[] = [];
    let isCoarser = false;
    let via: NameHit["via"] = "spelling";
    for (const [i, part] of slashParts(key).entries()) {
      const hit =
        this.#direct(part) ?? this.#direct(at(asWritten, i)) ?? this.#direct(part.replace(/ spp?$/u, ""));
      if (hit === undefined) return undefined;
      if (hit.via !== "spelling") via = hit.via;
      const members = hit.operational?.members.map((member) => this.#numberOf(member)) ?? [hit.taxon];
      // A provisional taxon has no members: the taxon that holds it stands for it.
      if (members.length === 0) isCoarser = true;
      taxa.push(...(members.length === 0 ? [hit.taxon] : members));
    }
    const members = withoutNested(taxa, this.#tree);
    if (members.length === 1) {
      const only = at(members, 0);
      isCoarser ||= taxa.some((taxon) => taxon !== only);
      return { taxon: only, via, warning: isCoarser ? this.#nestedWarning(key, only) : undefined };
    }
    const operational = slashGroup(members, this.#index);
    return { taxon: this.#numberOf(operational.parent), operational, via };
  }

  #nestedWarning(key: string, only: number): NameWarning {
    const name = this.#tree.nameOf(only);
    return { kind: "uncertain", text: `"${key}" is taken as ${name}, which holds all of it` };
  }

  #numberOf(name: string): number {
    // Groups lie under taxa of the tree and are made of them.
    return this.#tree.numberOf(name) as number;
  }

  #sameFamily(a: number, b: number): boolean {
    const common = this.#tree.commonAncestor(a, b);
    return at(this.#tree.ranks, common) >= RANKS.indexOf("family");
  }
}

/** What stands in front of "group", "gr", "complex" and the like. */
function groupStem(key: string): string | undefined {
  const words = key.split(" ");
  for (const length of [2, 1]) {
    if (words.length > length && GROUP_WORDS.has(words.slice(-length).join(" ")))
      return words.slice(0, -length).join(" ");
  }
  return undefined;
}

/** The names on both sides of slashes; "hydropsyche betteni/depravata" and "a b/a. c" share their genus. */
function slashParts(key: string): string[] {
  const parts = key.split(SLASH);
  const words = at(parts, 0).split(" ");
  const genus = at(words, 0);
  const epithet = words[1];
  if (epithet === undefined || /^spp?$/u.test(epithet)) return parts;
  return parts.map((part, i) => {
    if (i === 0) return part;
    if (/^[a-z]{3,}$/u.test(part)) return `${genus} ${part}`;
    const initial = /^([a-z]) ([a-z]{3,})$/u.exec(part);
    return initial !== null && genus.startsWith(at(initial, 1)) ? `${genus} ${initial[2]}` : part;
  });
}
