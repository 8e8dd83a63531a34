import { describe, expect, it } from "vitest";
import { html } from "../../src/report/html.ts";
import { pageTable } from "../../src/report/table.ts";

/** Classes of the cells of a column whose cells are these. */
function classesOf(...cells: readonly string[]): string[] {
  const { text } = pageTable(
    "t",
    [{ name: "n" }],
    cells.map((cell) => [cell]),
  );
  return [...text.matchAll(/<td(?: class="([^"]*)")?/g)].map(([, own = ""]) => own);
}

describe("pageTable", () => {
  it("keeps short cells in one line, and breaks others between words as long as their words are short", () => {
    expect(classesOf("2024-05-01", "fair")).toEqual(["short", "short"]);
    expect(classesOf("14.6 to excellent", "5 to fair")).toEqual(["words", "words"]);
    // An id or a hash may be longer than the page is wide.
    expect(classesOf("5 to fair", "a-name-of-more-than-15-letters")).toEqual(["", ""]);
  });

  it("looks at the words of a cell and not at its tags", () => {
    const { text } = pageTable("t", [{ name: "n" }], [[html`<a href="sites/a-long-address.html">V1</a>`]]);
    expect(text).toContain('<td class="short" data-label="n">');
  });
});
