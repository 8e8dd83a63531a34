/** Lists up to this length are sorted by insertion; a call into the runtime costs more than that. */
const SHORT = 80;

/** Sorts whole numbers in place, ascending. Made for the many short lists of samples. */
export function sortNumbers(numbers: number[]): void {
  const length = numbers.length;
  if (length > SHORT) {
    numbers.sort((a, b) => a - b);
    return;
  }
  for (let next = 1; next < length; next++) {
    const number = numbers[next] as number;
    let at = next - 1;
    for (; at >= 0 && (numbers[at] as number) > number; at--) numbers[at + 1] = numbers[at] as number;
    numbers[at + 1] = number;
  }
}
