/**
 * Gives the entry of a list at a place that must exist: a place that was counted out of the list itself, or
 * handed out together with it.
 *
 * @param list an array or a typed array, without gaps
 * @param index whole number from 0 to one below the length
 * @throws RangeError when the list has no such entry: an error of the program, never of its input
 */
export function at<T extends NonNullable<unknown> | null>(list: ArrayLike<T>, index: number): T {
  const entry = list[index];
  if (entry === undefined) throw new RangeError(`no entry ${index} in a list of ${list.length}`);
  return entry;
}
