/**
 * Gives what a map holds under a key that must be there: one that was put in by the same rule by which it is asked
 * for.
 *
 * @param map any map, without undefined among its values
 * @param key a key of it
 * @throws RangeError when the map has no such key: an error of the program, never of its input
 */
export function entryOf<Key, T extends NonNullable<unknown> | null>(map: ReadonlyMap<Key, T>, key: Key): T {
  const entry = map.get(key);
  if (entry === undefined) throw new RangeError(`no entry ${String(key)} in a map of ${map.size}`);
  return entry;
}
