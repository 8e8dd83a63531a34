/**
 * Most animals that a fixed count may ask for: a draw remembers every animal it takes, and no bench counts as many.
 */
export const LARGEST_TARGET = 2 ** 22;
