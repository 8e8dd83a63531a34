import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { checksTable } from "../../src/reference/checks-table.ts";
import { shippedSet, TABLES } from "../helpers/sets.ts";

const README = join(TABLES, "README.md");
const BEGIN = /<!-- checks: [^>]*-->\n/;
const END = "<!-- checks end -->";

it("the README says of every set what was checked how, as the sets themselves do", async () => {
  const ids = readdirSync(join(TABLES, "sets")).sort();
  const definitions = [];
  for (const id of ids) definitions.push((await shippedSet(id)).definition);
  expect(definitions.filter((set) => set.checks.length === 0).map((set) => set.id)).toEqual([]);
  const text = readFileSync(README, "utf8");
  const begin = BEGIN.exec(text);
  if (begin === null) throw new Error("the README has no place for the table");
  const start = begin.index + begin[0].length;
  const end = text.indexOf(END);
  const written = `\n${checksTable(definitions)}\n\n`;
  if (process.env.UPDATE_DOCS === "1")
    writeFileSync(README, text.slice(0, start) + written + text.slice(end));
  else expect(text.slice(start, end)).toBe(written);
});
