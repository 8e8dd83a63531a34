import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { Finding, Severity } from "../../findings/finding.ts";
import { at } from "../../model/at.ts";
import type { CheckResult } from "../../reference/check-set.ts";
import { checkSet } from "../../reference/check-set.ts";
import { checkTables } from "../../reference/check-tables.ts";
import type { ListedSet } from "../../reference/find-set.ts";
import { findSetFolder, listSets } from "../../reference/find-set.ts";
import { SharedFiles } from "../../reference/shared-files.ts";
import { loadSharedTables } from "../../reference/shared-tables.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import { EXIT, type ExitCode } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { planOutput, writeTable } from "../output.ts";
import { setPlaces } from "./places.ts";

const COLUMNS: readonly OutputColumn[] = [
  { name: "set", kind: "text" },
  { name: "check", kind: "text" },
  { name: "result", kind: "text" },
  { name: "errors", kind: "number" },
  { name: "warnings", kind: "number" },
  { name: "notes", kind: "number" },
  { name: "asks", kind: "text" },
];

/** The work of `reference check`: one row a check on stdout, what was found on stderr. */
export async function checkReference(
  context: CommandContext,
  options: OptionValues,
  words: readonly string[],
): Promise<ExitCode> {
  const plan = await planOutput(context, options, []);
  const places = setPlaces(context.cwd);
  const sets: ListedSet[] = [];
  for (const word of words) sets.push({ id: word, folder: await findSetFolder(word, places) });
  if (words.length === 0) sets.push(...(await listSets(places)));
  const tables = {
    shared: loadSharedTables(places.packageTables),
    files: new SharedFiles(places.packageTables),
  };
  const rows: OutputRow[] = [];
  const findings: Finding[] = [];
  const take = (name: string, results: readonly CheckResult[]): void => {
    for (const result of results) {
      rows.push(rowOf(name, result));
      findings.push(...result.findings);
    }
  };
  if (words.length === 0) take("(shared tables)", checkTables(tables));
  for (const { id, folder } of sets) take(id, await checkSet(folder, tables));
  // A person who checks everything wants one line a set; files and programs get every check.
  const isBrief = plan.format === "table" && sets.length > 1;
  await writeTable(context, plan, {
    columns: isBrief ? COLUMNS.filter(({ name }) => name !== "check" && name !== "asks") : COLUMNS,
    rows: isBrief ? summaries(rows) : rows,
    envelope: { schema: "jartally/reference-check@1", inputs: [] },
  });
  const files = sets
    .map(({ folder }) => folder.shownAs)
    .flatMap((one) => [`${one}/set.json`, `${one}/thresholds.csv`]);
  const exit = await finish(context, options, unique(findings), files);
  // What is wrong with a set is the answer asked for, not data refused.
  const isBad = findings.some((one) => one.severity !== "note");
  return exit === EXIT.done || exit === EXIT.refused ? (isBad ? EXIT.no : EXIT.done) : exit;
}

function rowOf(name: string, { check, holds, findings }: CheckResult): OutputRow {
  const count = (severity: Severity) => findings.filter((one) => one.severity === severity).length;
  const [errors, warnings, notes] = [count("error"), count("warning"), count("note")];
  const result = errors > 0 ? "error" : warnings > 0 ? "warning" : notes > 0 ? "note" : "ok";
  return [name, check, result, errors, warnings, notes, holds];
}

const RESULTS = ["ok", "note", "warning", "error"];

/** One row a set: its worst result, and the sums. */
function summaries(rows: readonly OutputRow[]): OutputRow[] {
  const bySet = new Map<string, [string, number, number, number]>();
  for (const [set, , result, errors, warnings, notes] of rows) {
    const known = bySet.get(String(set)) ?? ["ok", 0, 0, 0];
    const worst = Math.max(RESULTS.indexOf(known[0]), RESULTS.indexOf(String(result)));
    bySet.set(String(set), [
      at(RESULTS, worst),
      known[1] + Number(errors),
      known[2] + Number(warnings),
      known[3] + Number(notes),
    ]);
  }
  return [...bySet].map(([set, sums]) => [set, ...sums]);
}

/** Two sets that use one shared table find the same in it. */
function unique(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter((one) => {
    const key = JSON.stringify([one.file, one.line, one.column, one.code, one.message]);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
