/**
 * An iterable that is worked out while it is gone through, and therefore once. A second walk would give nothing
 * and look like an empty batch, so it is an error.
 *
 * @param what how the message calls it, for instance "samples"
 */
export function onceOnly<T>(what: string, values: Iterable<T>): Iterable<T> {
  let isTaken = false;
  return {
    [Symbol.iterator]() {
      if (isTaken)
        throw new Error(
          `${what} can be gone through once; keep them with [...${what}] to go through them again`,
        );
      isTaken = true;
      return values[Symbol.iterator]();
    },
  };
}
