import { createHash } from "node:crypto";

/**
 * The documented procedures a second time, as plainly as can be: 64-bit arithmetic from the publication of the
 * generator, animals as single objects in a list, no shared code. Written from the documentation of
 * `randomStream` and `drawIndividuals` and not from their code.
 */
export class PlainStream {
  #s0: bigint;
  #s1: bigint;

  constructor(...parts: string[]) {
    const digest = createHash("sha256").update(JSON.stringify(parts)).digest("hex");
    this.#s0 = BigInt(`0x${digest.slice(0, 16)}`);
    this.#s1 = BigInt(`0x${digest.slice(16, 32)}`);
  }

  #next(): bigint {
    const out = BigInt.asUintN(32, this.#s0 + this.#s1);
    const mixed = this.#s0 ^ this.#s1;
    this.#s0 = rotated(this.#s0, 24n) ^ mixed ^ BigInt.asUintN(64, mixed << 16n);
    this.#s1 = rotated(mixed, 37n);
    return out;
  }

  below(n: number): number {
    const piece = 2n ** 32n / BigInt(n);
    for (;;) {
      const value = this.#next() / piece;
      if (value < BigInt(n)) return Number(value);
    }
  }
}

function rotated(value: bigint, by: bigint): bigint {
  return BigInt.asUintN(64, (value << by) | (value >> (64n - by)));
}

/** The animals left of each pile. */
export function plainDraw(counts: readonly number[], target: number, stream: PlainStream): number[] {
  const animals = counts.flatMap((count, pile) => new Array<{ pile: number }>(count).fill({ pile }));
  const swap = (a: number, b: number) => {
    const [x, y] = [animals[a], animals[b]];
    if (x !== undefined && y !== undefined) [animals[a], animals[b]] = [y, x];
  };
  if (target < animals.length) {
    let done = 0;
    while (done < target) {
      const rest = animals.length - done;
      if (rest > 65_536) {
        swap(done, done + stream.below(rest));
        done++;
        continue;
      }
      const both = stream.below(rest * (rest - 1));
      swap(done, done + Math.trunc(both / (rest - 1)));
      if (done + 1 < target) swap(done + 1, done + 1 + (both % (rest - 1)));
      done += 2;
    }
  }
  const left = counts.map(() => 0);
  for (const { pile } of animals.slice(0, target)) left[pile] = (left[pile] ?? 0) + 1;
  return left;
}

/** The numbers 1 to n in random order. */
export function plainOrder(n: number, stream: PlainStream): number[] {
  const rest = Array.from({ length: n }, (_, at) => at + 1);
  for (let at = 0; at + 1 < n; at++) {
    const from = at + stream.below(n - at);
    const [a = 0, b = 0] = [rest[at], rest[from]];
    rest[at] = b;
    rest[from] = a;
  }
  return rest;
}
