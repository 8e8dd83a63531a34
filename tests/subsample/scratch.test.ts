import { expect, it } from "vitest";
import { Scratch } from "../../src/subsample/scratch.ts";

it("lends memory again, to one borrower at a time", () => {
  const scratch = new Scratch(100, (length) => new Uint16Array(length));
  const first = scratch.borrow(10);
  const second = scratch.borrow(20);
  expect(second).not.toBe(first);
  scratch.giveBack(first);
  expect(scratch.borrow(10)).toBe(first);
  scratch.giveBack(first);
  scratch.giveBack(second);
  expect(scratch.borrow(15)).toBe(second);
  expect(scratch.borrow(5)).not.toBe(second);
});

it("makes new memory where the spare one is too small, and keeps none that is too large", () => {
  const scratch = new Scratch(100, (length) => new Uint16Array(length));
  const small = scratch.borrow(10);
  scratch.giveBack(small);
  expect(scratch.borrow(11).length).toBe(11);
  const large = scratch.borrow(101);
  scratch.giveBack(large);
  expect(scratch.borrow(50)).not.toBe(large);
});

it("keeps the larger of what is given back, up to the largest that it keeps", () => {
  const scratch = new Scratch(100, (length) => new Uint16Array(length));
  const largest = scratch.borrow(100);
  const small = scratch.borrow(10);
  scratch.giveBack(largest);
  scratch.giveBack(small);
  expect(scratch.borrow(60)).toBe(largest);
});
