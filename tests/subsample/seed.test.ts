import { describe, expect, it } from "vitest";
import { DEFAULT_SEED, parseSeed } from "../../src/subsample/seed.ts";

describe("a seed", () => {
  it.each(["0", "1", "42", "9007199254740991", "a", "Vennaloo-2024", "x_1", "a".repeat(64)])(
    "may be %s",
    (text) => {
      expect(parseSeed(text)).toBe(text);
    },
  );

  it.each([
    "",
    " 1",
    "1 ",
    "01",
    "00",
    "-1",
    "+1",
    "1.0",
    "1e3",
    "0x10",
    "9007199254740992",
    "99999999999999999999",
    "1a",
    "_a",
    "-a",
    "a b",
    "a.b",
    "é",
    "а",
    "١٢",
    "a\n",
    "1\n",
    "a".repeat(65),
  ])("is not %j", (text) => {
    expect(parseSeed(text)).toBe(undefined);
  });

  it("has a default that never changes", () => {
    expect(DEFAULT_SEED).toBe("1");
    expect(parseSeed(DEFAULT_SEED)).toBe(DEFAULT_SEED);
  });
});
