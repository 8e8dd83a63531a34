import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { escapeHtml, Html, html } from "../../src/report/html.ts";

describe("html", () => {
  it("escapes what is put in, but not what is HTML already, and joins lists", () => {
    const items = ["<b>", "a&b"].map((text) => html`<li title="${text}">${text}</li>`);
    expect(html`<ul>${items}</ul>${undefined}${3}`.text).toBe(
      '<ul><li title="&lt;b&gt;">&lt;b&gt;</li><li title="a&amp;b">a&amp;b</li></ul>3',
    );
    expect(html`${new Html("<i>")}`.text).toBe("<i>");
  });

  it("never lets a text out of its place", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const escaped = escapeHtml(text);
        expect(escaped).not.toMatch(/[<>"']/);
        const back = escaped
          .replaceAll("&lt;", "<")
          .replaceAll("&gt;", ">")
          .replaceAll("&quot;", '"')
          .replaceAll("&#39;", "'")
          .replaceAll("&amp;", "&");
        expect(back).toBe(text);
      }),
    );
  });
});
