import { expect, it } from "vitest";
import { mutate, numbers } from "../../helpers/mutate.ts";
import { inPieces } from "../../helpers/reading.ts";
import { readLong } from "../../helpers/two-ways.ts";
import { damaged } from "./mutations.ts";
import { FULL_SHEET } from "./targets.ts";

/** Rows ahead of the damage, since the first lines of a text are always read with care. */
const [HEADER = "", ...ROWS] = FULL_SHEET.trim().split("\n");
const AHEAD = Array.from(
  { length: 100 },
  (_, n) => `A${n},Caenis,${n + 1},larva,,,,,,,,,,,,,,,,${"x".repeat(200)}`,
);
const CASES = 100;

it(`${CASES} damaged sheets are read alike from bytes and by the reader of records`, {
  timeout: 240_000,
}, async () => {
  let quick = 0;
  for (let number = 1; number <= CASES; number++) {
    const draw = numbers(number);
    const many = Array.from({ length: 8 }, () => ROWS.join("\n")).join("\n");
    const tail = damaged(Buffer.from(`${many}\n`), "sheet.csv", draw);
    const text = Buffer.concat([Buffer.from(`${[HEADER, ...AHEAD].join("\n")}\n`), tail]);
    const bytes = draw(4) === 0 ? Buffer.from(mutate(text, draw)) : text;
    const piece = draw(3) === 0 ? 1 + draw(5000) : 1 << 20;
    const { quick: fast, ...one } = await readLong(inPieces(bytes, piece), "quick");
    const { quick: _, ...other } = await readLong(inPieces(bytes, piece), "records");
    quick += fast;
    expect(one, `case ${number}`).toEqual(other);
  }
  // Or a thing would be compared with itself.
  expect(quick).toBeGreaterThan(CASES * 10);
});
