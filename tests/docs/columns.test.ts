import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { LOG_COLUMNS } from "../../src/model/sample-facts.ts";
import { FACT_COLUMN_NAMES } from "../../src/sheets/row-facts.ts";
import { REPOSITORY } from "../helpers/run-jartally.ts";

describe("the README", () => {
  it("names every column that is read", () => {
    const readme = readFileSync(join(REPOSITORY, "README.md"), "utf8");
    const columns = ["sample_id", "taxon", "count", ...FACT_COLUMN_NAMES, ...LOG_COLUMNS];
    expect(columns.filter((name) => !readme.includes(`\`${name}\``))).toEqual([]);
  });
});
