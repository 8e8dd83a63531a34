import fc from "fast-check";
import { expect, it } from "vitest";
import { endOfSame } from "../../../src/files/text/plain-cells.ts";

it("finds where the same bytes end that stand above, and to the last of them whether they are the same", () => {
  const text = fc.string({ maxLength: 14 });
  fc.assert(
    fc.property(text, text, fc.boolean(), fc.nat(3), (above, other, isSame, ahead) => {
      const start = "x".repeat(ahead) + above;
      const below = isSame ? above + other : other;
      const bytes = new TextEncoder().encode(start + below);
      const from = new TextEncoder().encode(start).length;
      const same = bytes.subarray(ahead, from);
      const isThere = same.length > 0 && Buffer.compare(bytes.subarray(from, from + same.length), same) === 0;
      expect(endOfSame(new DataView(bytes.buffer), bytes.length, from, ahead, from)).toBe(
        isThere ? from + same.length : -1,
      );
    }),
  );
});
