import type { RandomStream } from "../../../src/subsample/stream.ts";

/** What one possible course of a random procedure led to. */
export interface Course<Result> {
  readonly result: Result;
  /** One in so many: the product of the ranges asked for. */
  readonly oneIn: number;
}

/**
 * Runs a random procedure once for every possible course of events: a counting stream instead of statistics.
 * Each answer of `below(n)` has the probability 1 in n, so a course has that of the product.
 */
export function everyCourse<Result>(procedure: (stream: RandomStream) => Result): Course<Result>[] {
  const courses: Course<Result>[] = [];
  const answers: number[] = [];
  const ranges: number[] = [];
  do {
    let asked = 0;
    ranges.length = 0;
    const stream = {
      below(n: number) {
        if (asked === answers.length) answers.push(0);
        ranges[asked] = n;
        return answers[asked++] ?? 0;
      },
    };
    const result = procedure(stream);
    courses.push({ result, oneIn: ranges.reduce((product, range) => product * range, 1) });
    answers.length = asked;
    while (answers.length > 0 && (answers.at(-1) ?? 0) + 1 === ranges[answers.length - 1]) answers.pop();
    if (answers.length > 0) answers[answers.length - 1] = (answers.at(-1) ?? 0) + 1;
  } while (answers.length > 0);
  return courses;
}

/** How often each result came out of courses that are all equally likely. */
export function tally<Result>(courses: readonly Course<Result>[]): Map<string, number> {
  const times = new Map<string, number>();
  for (const { result } of courses) {
    const key = JSON.stringify(result);
    times.set(key, (times.get(key) ?? 0) + 1);
  }
  return times;
}
