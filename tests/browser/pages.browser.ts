import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { AxeResults } from "axe-core";
import type { Browser, BrowserContextOptions } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openPage, startBrowser } from "./browser.ts";
import { PAGES, writePages } from "./written-pages.ts";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
/** Widths of a phone, of a tablet and of a desk. */
const WIDTHS = [390, 820, 1280] as const;
const SCHEMES = ["light", "dark"] as const;
/** Paper in CSS pixels (96 an inch) between margins of 15 mm: ISO 216, and 8.5 by 11 inches. */
const PAPER = [
  { format: "A4", width: Math.floor(((210 - 30) / 25.4) * 96), points: [595, 842] },
  { format: "Letter", width: Math.floor(8.5 * 96 - (30 / 25.4) * 96), points: [612, 792] },
] as const;

/** Run in the page: what sticks out beyond a width, and is not inside something that scrolls by itself. */
const TOO_WIDE = `(() => {
  const most = document.documentElement.clientWidth + 0.5;
  return [...document.body.querySelectorAll("*")]
    .filter((one) => !one.closest("svg") || one.localName === "svg")
    .filter((one) => one.getBoundingClientRect().right > most)
    .map((one) => one.localName + " " + one.className + " " + one.textContent.trim().slice(0, 40));
})()`;
/** Run in the page: boxes whose content is wider than they are, so that it has to be scrolled or is cut. */
const SCROLLED = `[...document.body.querySelectorAll("*")]
  .filter((one) => !one.closest("svg") && one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 1)
  .filter((one) => getComputedStyle(one).overflowX !== "visible")
  .map((one) => one.localName + " " + (one.getAttribute("aria-label") ?? one.className))`;
/** Run in the page: pictures with their sizes, and whether something is drawn in them. */
const PICTURES = `[...document.querySelectorAll("svg[role=img]")]
  .filter((one) => one.checkVisibility())
  .map((one) => {
    const { width, height } = one.getBoundingClientRect();
    const parts = [...one.querySelectorAll("path, rect, line, circle, text")];
    return {
      label: one.getAttribute("aria-label"),
      width,
      height,
      drawn: parts.filter((part) => { const box = part.getBoundingClientRect(); return box.width + box.height > 1; }).length,
    };
  })`;

let browser: Browser;
let folder = "";

beforeAll(async () => {
  folder = writePages();
  browser = await startBrowser();
});
afterAll(async () => browser?.close());

describe.each(PAGES)("the page: $name", ({ path, words, pictures: least }) => {
  const open = (options: BrowserContextOptions = {}) => openPage(browser, join(folder, path), options);

  it.each(SCHEMES)("opens without complaint and asks for nothing (%s)", async (colorScheme) => {
    const opened = await open({ colorScheme });
    expect(opened.complaints).toEqual([]);
    expect(opened.requests).toEqual([]);
    expect(await opened.page.evaluate("document.scripts.length")).toBe(0);
    const text = await opened.page.evaluate<string>("document.querySelector('main').innerText");
    for (const word of words) expect(text).toContain(word);
    await opened.close();
  });

  it.each(WIDTHS)(
    "shows every picture, and nothing has to be scrolled sideways (%i pixels)",
    async (width) => {
      const opened = await open({ viewport: { width, height: 900 } });
      const pictures =
        await opened.page.evaluate<{ label: string; width: number; height: number; drawn: number }[]>(
          PICTURES,
        );
      expect(pictures.length).toBeGreaterThanOrEqual(least);
      expect(
        pictures.filter((one) => one.width < 80 || one.height < 10 || one.drawn < 2 || one.label === ""),
      ).toEqual([]);
      expect(await opened.page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
      expect(await opened.page.evaluate(SCROLLED)).toEqual([]);
      expect(await opened.page.evaluate(TOO_WIDE)).toEqual([]);
      await opened.close();
    },
  );

  it.each([390, 1280].flatMap((width) => SCHEMES.map((scheme) => [width, scheme] as const)))(
    "is readable for everybody: contrast, names, structure (%i pixels, %s)",
    async (width, colorScheme) => {
      const opened = await open({
        viewport: { width, height: 900 },
        colorScheme,
      });
      await opened.page.evaluate(AXE);
      const found = await opened.page.evaluate<AxeResults>(
        'axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })',
      );
      expect(
        found.violations.map(({ id, nodes }) => [id, nodes.length, nodes[0]?.html.slice(0, 200)]),
      ).toEqual([]);
      expect(found.passes.map(({ id }) => id)).toContain("color-contrast");
      await opened.close();
    },
  );

  it.each(PAPER)("prints on $format and nothing is cut", async ({ format, width, points }) => {
    const opened = await open({ viewport: { width, height: 900 } });
    await opened.page.emulateMedia({ media: "print" });
    expect(await opened.page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    expect(await opened.page.evaluate(TOO_WIDE)).toEqual([]);
    const cut = await opened.page.evaluate(SCROLLED);
    expect(cut).toEqual([]);
    const printed = (await opened.page.pdf({ format, preferCSSPageSize: false })).toString("latin1");
    expect(printed.slice(0, 5)).toBe("%PDF-");
    const sizes = [...printed.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
    expect(sizes.length).toBeGreaterThan(0);
    for (const [, across, down] of sizes)
      expect(
        [Number(across) - points[0], Number(down) - points[1]].map(Math.abs).every((off) => off < 2),
      ).toBe(true);
    await opened.close();
  });
});
