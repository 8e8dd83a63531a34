/** Bits of a word that sums are kept in; the sign is left alone. */
const WORD_BITS = 31;

/** Whether entries stand for so few taxa that they can be counted so; no sheet that is no slip says otherwise. */
export function canCount(kinds: Int32Array): boolean {
  return totalOf(kinds) < 2 ** WORD_BITS;
}

function totalOf(kinds: Int32Array): number {
  let total = 0;
  for (let entry = 0; entry < kinds.length; entry++) total += kinds[entry] as number;
  return total;
}

/**
 * Numbers of taxa of several groups of entries, counted in one go: a word of each entry has a field for every group,
 * 1 where the entry belongs to it, and the sum of the words times what the entries bring has the sums of all groups
 * in its fields. A field has room for all taxa there are, and what does not fit into one word goes into another.
 */
export class TaxaCounts {
  readonly #entries: number;
  /** All bits of a field set. */
  readonly #field: number;
  /** Of each group the word that it is in, and where in it. */
  readonly #wordOf: Int32Array;
  readonly #shiftOf: Int32Array;
  /** All entries' first word, then all their second one, and so on. */
  readonly #words: Int32Array;
  readonly #sums: Int32Array;

  /**
   * @param groups entries of each group, each at most once
   * @param kinds taxa that each entry stands for at most; see `canCount`
   */
  constructor(groups: readonly Int32Array[], kinds: Int32Array) {
    const bits = Math.max(1, 32 - Math.clz32(totalOf(kinds)));
    const fields = Math.max(1, Math.floor(WORD_BITS / bits));
    this.#entries = kinds.length;
    this.#field = 2 ** bits - 1;
    this.#wordOf = Int32Array.from(groups, (_, group) => Math.floor(group / fields));
    this.#shiftOf = Int32Array.from(groups, (_, group) => (group % fields) * bits);
    this.#sums = new Int32Array(Math.ceil(groups.length / fields));
    this.#words = new Int32Array(this.#sums.length * this.#entries);
    for (const [group, entries] of groups.entries()) {
      const start = (this.#wordOf[group] as number) * this.#entries;
      const bit = 1 << (this.#shiftOf[group] as number);
      for (let i = 0; i < entries.length; i++) {
        const at = start + (entries[i] as number);
        this.#words[at] = (this.#words[at] as number) | bit;
      }
    }
  }

  /** @param richness taxa of each entry, not more than its kinds */
  count(richness: Int32Array): void {
    const words = this.#words;
    const sums = this.#sums;
    const entries = this.#entries;
    for (let word = 0, at = 0; word < sums.length; word++) {
      let sum = 0;
      for (let entry = 0; entry < entries; entry++)
        sum = (sum + Math.imul(richness[entry] as number, words[at++] as number)) | 0;
      sums[word] = sum;
    }
  }

  /** Taxa of a group as counted last. */
  of(group: number): number {
    const sum = this.#sums[this.#wordOf[group] as number] as number;
    return (sum >>> (this.#shiftOf[group] as number)) & this.#field;
  }
}
