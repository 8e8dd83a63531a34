import type { RandomStream } from "./stream.ts";

/** Places in a row of animals; the second kind for rows beyond the range of 32-bit numbers. */
export type Places = Int32Array | Float64Array;

/** Up to this many animals two numbers are taken from one random number; their product then fits in 32 bits. */
export const LARGEST_PAIRED = 65_536;

/**
 * The random part of a draw: for each step the place in the row from which the animal comes that is put at that
 * step's own place, between there and the end (Durstenfeld R 1964, Algorithm 235: Random permutation, Commun.
 * ACM 7(7):420). The places of a smaller target are the beginning of those of a larger one.
 *
 * @param total animals in the row
 * @param target steps, fewer than `total`
 * @param places is filled from 0 to `target` - 1
 */
export function randomPlaces(total: number, target: number, stream: RandomStream, places: Places): void {
  let at = 0;
  for (; at < target && total - at > LARGEST_PAIRED; at++) places[at] = at + stream.below(total - at);
  while (at < target) {
    // With n animals not yet taken, one number below n (n - 1) holds a number below n and one below n - 1,
    // independent of each other. Random numbers are what a draw spends its time on, so each serves twice.
    const others = total - at - 1;
    const both = stream.below((others + 1) * others);
    const first = Math.floor(both / others);
    places[at] = at + first;
    at++;
    if (at === target) return;
    places[at] = at + both - first * others;
    at++;
  }
}
