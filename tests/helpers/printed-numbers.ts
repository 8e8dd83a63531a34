import fc from "fast-check";

/** Numbers of any size, many with as many digits as are printed, or ending next to the middle of two of them. */
export function printedNumbers(): fc.Arbitrary<number> {
  const digits = fc.integer({ min: 1, max: 10 ** 13 });
  // Numbers that end in the middle of two twelfth digits, or next to it, among others.
  const middle = fc
    .tuple(fc.integer({ min: 10 ** 11, max: 10 ** 12 - 1 }), fc.integer({ min: -3, max: 16 }))
    .map(([whole, decimals]) => (whole + 0.5) / 10 ** decimals);
  return fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e15, max: 1e15 }),
    fc.double({ noNaN: true, min: 0, max: 20 }),
    fc.tuple(digits, fc.integer({ min: 0, max: 18 })).map(([whole, decimals]) => whole / 10 ** decimals),
    fc.tuple(digits, fc.integer({ min: 1, max: 10 ** 6 })).map(([num, den]) => num / den),
    middle,
    middle.map((one) => -one),
    fc.tuple(middle, fc.integer({ min: -4, max: 4 })).map(([one, steps]) => one * (1 + steps * 2 ** -52)),
  );
}
