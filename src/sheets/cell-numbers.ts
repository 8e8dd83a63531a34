const FIRST_SLOTS = 1 << 10;
/** Cells that share a slot chain; more are made to, and are not worth the time. */
const LONGEST_CHAIN = 64;
/** FNV-1a (Fowler, Noll and Vo), 32 bits. */
const FIRST_HASH = 0x811c9dc5;
const HASH_PRIME = 0x01000193;

/**
 * Numbers cells by their bytes in the order in which they first appear, so that a text is made once for all the
 * cells that say it. An open-addressing table of bytes: no text is made to look one up.
 */
export class CellNumbers {
  /** Bytes of all cells, one behind the other; cell n is from `#starts[n]` to `#starts[n + 1]`. */
  #bytes = new Uint8Array(1 << 12);
  #starts = new Uint32Array(FIRST_SLOTS / 2 + 1);
  #hashes = new Int32Array(FIRST_SLOTS / 2);
  /**
   * Number of a cell plus 1 in the lower bits, as many as tell the slots apart, and the upper bits of its hash in the
   * others; 0 where nothing is. Never more than half full.
   */
  #slots = new Int32Array(FIRST_SLOTS);
  #size = 0;
  #end = 0;

  get size(): number {
    return this.#size;
  }

  /** Whether the cell between two offsets has this number; -1 is no cell's. */
  is(number: number, bytes: Uint8Array, from: number, to: number): boolean {
    if (number < 0) return false;
    let at = this.#starts[number] as number;
    if ((this.#starts[number + 1] as number) - at !== to - from) return false;
    const known = this.#bytes;
    for (let own = from; own < to; own++, at++) if (bytes[own] !== known[at]) return false;
    return true;
  }

  /** The number of the cell between two offsets, -1 when it is new. */
  find(bytes: Uint8Array, from: number, to: number): number {
    return this.#findHashed(hashOf(bytes, from, to), bytes, from, to);
  }

  #findHashed(hash: number, bytes: Uint8Array, from: number, to: number): number {
    const folded = fold(hash);
    const slots = this.#slots;
    const mask = slots.length - 1;
    for (let slot = folded & mask; ; slot = (slot + 1) & mask) {
      const entry = slots[slot] as number;
      if (entry === 0) return -1;
      if (((entry ^ folded) & ~mask) !== 0) continue;
      const number = (entry & mask) - 1;
      if (this.is(number, bytes, from, to)) return number;
    }
  }

  /**
   * The number of the cell that begins at an offset, -1 when it is new: its bytes are looked at once, to find where it
   * ends and to look it up. Where it ends is in `end`.
   *
   * @param ends for every byte, something other than 0 when it ends a cell; one such must be ahead
   */
  findFrom(bytes: Uint8Array, from: number, ends: Uint8Array): number {
    let hash = FIRST_HASH;
    let at = from;
    for (let byte = bytes[at] as number; ends[byte] === 0; byte = bytes[++at] as number)
      hash = nextHash(hash, byte);
    this.#end = at;
    return this.#findHashed(hash, bytes, from, at);
  }

  /** Where the cell that `findFrom` looked at ends. */
  get end(): number {
    return this.#end;
  }

  /** Gives a new cell the next number, -1 when it falls where too many others are: it then stays without. */
  add(bytes: Uint8Array, from: number, to: number): number {
    if (this.#size * 2 >= this.#slots.length) this.#grow();
    const hash = fold(hashOf(bytes, from, to));
    const slot = this.#freeSlot(hash);
    if (slot < 0) return -1;
    const number = this.#size++;
    const start = this.#starts[number] ?? 0;
    const end = start + to - from;
    if (end > this.#bytes.length) this.#bytes = withLength(this.#bytes, end * 2);
    // Cells are short: a view of one to be copied would take longer than copying it byte by byte.
    const known = this.#bytes;
    for (let own = from, at = start; own < to; own++, at++) known[at] = bytes[own] as number;
    this.#starts[number + 1] = end;
    this.#hashes[number] = hash;
    this.#slots[slot] = entryOf(number, hash, this.#slots.length - 1);
    return number;
  }

  #freeSlot(hash: number): number {
    const mask = this.#slots.length - 1;
    let slot = hash & mask;
    for (let chain = 0; this.#slots[slot] !== 0; chain++) {
      if (chain === LONGEST_CHAIN) return -1;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  #grow(): void {
    const slots = this.#slots.length * 2;
    const starts = new Uint32Array(slots / 2 + 1);
    starts.set(this.#starts);
    const hashes = new Int32Array(slots / 2);
    hashes.set(this.#hashes);
    this.#starts = starts;
    this.#hashes = hashes;
    this.#slots = new Int32Array(slots);
    const mask = slots - 1;
    for (let number = 0; number < this.#size; number++) {
      const hash = hashes[number] as number;
      let slot = hash & mask;
      while (this.#slots[slot] !== 0) slot = (slot + 1) & mask;
      this.#slots[slot] = entryOf(number, hash, mask);
    }
  }
}

/** What a slot holds of a cell: its number, which is less than half the slots, and what is left of its hash. */
function entryOf(number: number, hash: number, mask: number): number {
  return (hash & ~mask) | (number + 1);
}

/** The hash of a cell and one more byte. */
function nextHash(hash: number, byte: number): number {
  return Math.imul(hash ^ byte, HASH_PRIME);
}

function hashOf(bytes: Uint8Array, from: number, to: number): number {
  let hash = FIRST_HASH;
  for (let at = from; at < to; at++) hash = nextHash(hash, bytes[at] as number);
  return hash;
}

/** Folds the upper bits of a hash into the lower ones that choose the slot. */
function fold(hash: number): number {
  return hash ^ (hash >>> 15);
}

function withLength(bytes: Uint8Array, length: number): Uint8Array<ArrayBuffer> {
  const longer = new Uint8Array(length);
  longer.set(bytes);
  return longer;
}
