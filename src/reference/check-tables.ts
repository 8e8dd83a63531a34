import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { didYouMean } from "../metrics/closest.ts";
import { at } from "../model/at.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { CheckResult } from "./check-set.ts";
import type { PackageRow } from "./package-table.ts";
import { numberFault } from "./read-attribute-file.ts";
import type { SharedFiles } from "./shared-files.ts";
import type { SharedTables } from "./shared-tables.ts";
import { LIFE_STAGES_FILE, SCHEMES_FILE, SCORE_AS_FILE, SYNONYMS_FILE, TAXA_FILE } from "./shared-tables.ts";

/** The shared tables and the folder they were read from. */
export interface TablesToCheck {
  readonly shared: SharedTables;
  readonly files: SharedFiles;
}

/** How findings name a file of the tables. */
function shownAs(path: string): string {
  return `reference-tables/${path}`;
}

/** A table being checked: its cells by column, and findings at them. */
class CheckedTable {
  readonly findings: Finding[] = [];
  readonly #path: string;
  readonly #columns: readonly string[];
  readonly #fields: readonly number[];
  readonly rows: readonly PackageRow[];

  constructor(files: SharedFiles, path: string, columns: readonly string[]) {
    const { rows, fields } = files.table(path, columns);
    this.#path = path;
    this.#columns = columns;
    this.#fields = fields;
    this.rows = rows;
  }

  cell(row: PackageRow, column: string): string {
    return at(row.cells, at(this.#fields, this.#columns.indexOf(column)));
  }

  fault(row: PackageRow, column: string, code: FindingCode, message: string): void {
    const field = at(this.#fields, this.#columns.indexOf(column)) + 1;
    this.findings.push(
      finding(code, { file: shownAs(this.#path), line: row.line, column: field }, { message }),
    );
  }

  /** A name that must be a row of the tree; empty cells are left to the caller. */
  known(row: PackageRow, column: string, name: string, tree: TaxonTree): void {
    if (name === "" || tree.numberOf(name) !== undefined) return;
    this.fault(
      row,
      column,
      "bad-table",
      `"${name}" is not in the tree of taxa${didYouMean(name, tree.names)}`,
    );
  }

  cited(row: PackageRow, column: string, shared: SharedTables): void {
    const id = this.cell(row, column);
    if (id === "" || (shared.sources.get(id)?.citation ?? "") === "")
      this.fault(
        row,
        column,
        "no-citation",
        id === "" ? "no source is named" : `"${id}" is not in sources.csv`,
      );
  }
}

/** Names, values, duplicates and sources of one shared attribute table. */
export function checkAttributeTable(scheme: string, { shared, files }: TablesToCheck): Finding[] {
  const path = shared.fileOf(scheme);
  const facts = shared.schemes.get(scheme);
  if (path === undefined || facts === undefined) return [];
  const table = new CheckedTable(files, path, ["taxon", "value", "source_id"]);
  const isNumeric = facts.min !== undefined || facts.max !== undefined || facts.direction !== "";
  const seen = new Set<string>();
  for (const row of table.rows) {
    const taxon = table.cell(row, "taxon");
    const text = table.cell(row, "value");
    table.known(row, "taxon", taxon, shared.tree);
    table.cited(row, "source_id", shared);
    if (seen.has(taxon)) table.fault(row, "taxon", "bad-table", `${taxon} has a value already`);
    seen.add(taxon);
    if (!isNumeric) continue;
    const { min, max } = facts;
    const value = Number(text);
    const wrong = numberFault(text);
    if (wrong !== undefined) table.fault(row, "value", "bad-table", wrong);
    else if ((min !== undefined && value < min) || (max !== undefined && value > max))
      table.fault(
        row,
        "value",
        "value-out-of-range",
        `${taxon}: ${text}; the scale goes from ${min ?? "any"} to ${max ?? "any"}`,
      );
  }
  return table.findings;
}

/** Checks the shared tables themselves: what people edit, row by row. */
export function checkTables(tables: TablesToCheck): CheckResult[] {
  const { shared } = tables;
  return [
    { check: "taxa", holds: "every taxon has its sources", findings: checkTaxa(tables) },
    {
      check: "synonyms",
      holds: "every other name leads to a taxon of the tree",
      findings: checkSynonyms(tables),
    },
    { check: "life-stages", holds: "every rule is for a taxon of the tree", findings: checkStages(tables) },
    { check: "schemes", holds: "every scheme has a source", findings: checkSchemes(tables) },
    {
      check: "attributes",
      holds: "names are known, values in range, once each, with their source",
      findings: [...shared.schemes.keys()].flatMap((scheme) => checkAttributeTable(scheme, tables)),
    },
    {
      check: "score-as",
      holds: "both taxa are in the tree, and the target has a value",
      findings: checkScoreAs(tables),
    },
  ];
}

function checkTaxa({ shared, files }: TablesToCheck): Finding[] {
  const table = new CheckedTable(files, TAXA_FILE, ["taxon", "source_id", "placement_source_id"]);
  for (const row of table.rows) {
    table.cited(row, "source_id", shared);
    if (table.cell(row, "placement_source_id") !== "") table.cited(row, "placement_source_id", shared);
  }
  return table.findings;
}

function checkSynonyms({ shared, files }: TablesToCheck): Finding[] {
  const table = new CheckedTable(files, SYNONYMS_FILE, [
    "name",
    "accepted_name",
    "kind",
    "candidates",
    "source_id",
  ]);
  const seen = new Map<string, number>();
  for (const row of table.rows) {
    const name = table.cell(row, "name");
    const key = `${name.toLowerCase()}\n${table.cell(row, "kind")}`;
    const before = seen.get(key);
    if (before !== undefined)
      table.fault(row, "name", "bad-table", `"${name}" stands in line ${before} already`);
    seen.set(key, row.line);
    table.known(row, "accepted_name", table.cell(row, "accepted_name"), shared.tree);
    for (const candidate of table.cell(row, "candidates").split("|")) {
      table.known(row, "candidates", candidate, shared.tree);
    }
    table.cited(row, "source_id", shared);
  }
  return table.findings;
}

function checkStages({ shared, files }: TablesToCheck): Finding[] {
  const table = new CheckedTable(files, LIFE_STAGES_FILE, ["taxon", "life_stage", "source_id"]);
  const seen = new Set<string>();
  for (const row of table.rows) {
    const taxon = table.cell(row, "taxon");
    const key = `${taxon} ${table.cell(row, "life_stage")}`;
    if (seen.has(key)) table.fault(row, "taxon", "bad-table", `${key} is decided already`);
    seen.add(key);
    table.known(row, "taxon", taxon, shared.tree);
    table.cited(row, "source_id", shared);
  }
  return table.findings;
}

function checkSchemes({ shared, files }: TablesToCheck): Finding[] {
  const table = new CheckedTable(files, SCHEMES_FILE, ["scheme", "source_id"]);
  for (const row of table.rows) table.cited(row, "source_id", shared);
  return table.findings;
}

function checkScoreAs({ shared, files }: TablesToCheck): Finding[] {
  const table = new CheckedTable(files, SCORE_AS_FILE, ["scheme", "taxon", "score_as", "source_id"]);
  for (const row of table.rows) {
    const scheme = table.cell(row, "scheme");
    const target = table.cell(row, "score_as");
    table.known(row, "taxon", table.cell(row, "taxon"), shared.tree);
    table.known(row, "score_as", target, shared.tree);
    table.cited(row, "source_id", shared);
    if (!shared.schemes.has(scheme))
      table.fault(
        row,
        "scheme",
        "bad-table",
        `there is no scheme "${scheme}"${didYouMean(scheme, shared.schemes.keys())}`,
      );
    else if (!shared.loadAttribute(scheme).values.has(target))
      table.fault(row, "score_as", "bad-table", `${target} has no value in ${scheme}`);
  }
  return table.findings;
}
