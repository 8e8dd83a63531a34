import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { findingsPage } from "../../src/findings/page.ts";
import { FINDING_REGISTER, FINDING_TOPICS } from "../../src/findings/register.ts";

const PAGE = new URL("../../reference-tables/FINDINGS.md", import.meta.url);

describe("the page of the finding codes", () => {
  it("is the one that the register writes (UPDATE_DOCS=1 rewrites it)", () => {
    const written = findingsPage(FINDING_TOPICS);
    if (process.env.UPDATE_DOCS === "1" && process.env.CI === undefined) writeFileSync(PAGE, written);
    expect(readFileSync(PAGE, "utf8")).toBe(written);
  });

  it("has every code of the register once, with its meaning and example", () => {
    const written = findingsPage(FINDING_TOPICS);
    const headings = [...written.matchAll(/^### `(.*)`$/gm)].map((match) => match[1]);
    expect(headings.sort()).toEqual(FINDING_REGISTER.map((entry) => entry.code).sort());
    for (const { meaning, example } of FINDING_REGISTER) {
      expect(written).toContain(meaning);
      expect(written).toContain(`\n${example}\n`);
    }
  });
});
