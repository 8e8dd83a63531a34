/** So many piles fit into 8 and into 16 bits. */
export const SMALL_PILES = 256;
const MIDDLE_PILES = 65_536;
/** Places of 8 bits that are written at once. */
const AT_ONCE = 8;

/** The number of a pile at the place of each of its animals. */
export type PilesInRow = Uint8Array | Uint16Array | Uint32Array;

/** Room for the animals of a sample in a row, pile after pile. */
export class AnimalRow {
  /** Behind the last animal stands anything. */
  readonly piles: PilesInRow;
  /** How many animals it has room for. */
  readonly length: number;
  readonly #view: DataView;

  /** @param piles they are told apart by numbers below this */
  constructor(piles: number, animals: number) {
    const places = animals + AT_ONCE;
    if (piles <= SMALL_PILES) this.piles = new Uint8Array(places);
    else this.piles = piles <= MIDDLE_PILES ? new Uint16Array(places) : new Uint32Array(places);
    this.length = animals;
    this.#view = new DataView(this.piles.buffer);
  }

  /** Lays out the animals of all piles, no more than it has room for. */
  layOut(counts: ArrayLike<number>): void {
    if (this.piles instanceof Uint8Array) layOutAtOnce(counts, this.#view);
    else layOutOneByOne(counts, this.piles);
  }
}

/** Eight animals at a time: what is written beyond the end of a pile, the next one writes over. */
function layOutAtOnce(counts: ArrayLike<number>, view: DataView): void {
  let at = 0;
  for (let pile = 0; pile < counts.length; pile++) {
    const end = at + (counts[pile] as number);
    const four = Math.imul(pile, 0x01010101);
    for (; at < end; at += AT_ONCE) {
      view.setInt32(at, four);
      view.setInt32(at + 4, four);
    }
    at = end;
  }
}

function layOutOneByOne(counts: ArrayLike<number>, piles: PilesInRow): void {
  let at = 0;
  for (let pile = 0; pile < counts.length; pile++)
    for (const end = at + (counts[pile] as number); at < end; at++) piles[at] = pile;
}
