// Prints the coverage of branches by folder, and each branch that the folder's aim leaves no room for.
import { readFileSync } from "node:fs";
import { relative } from "node:path";

const PURE = ["model", "findings", "names", "taxa", "subsample", "metrics", "scoring", "quality"];
const aimOf = (folder) => (PURE.includes(folder) ? 100 : 90);

function percent(covered, total) {
  return total === 0 ? 100 : (100 * covered) / total;
}

/**
 * Whether an arm is a default of `??`, which stands mostly where only the compiler thinks that something can be
 * missing: known by its form, the operator before the arm.
 */
function isDefault(lines, { type, locations }, arm) {
  const start = locations[arm]?.start;
  if (type !== "binary-expr" || arm === 0 || start?.line === undefined) return false;
  const before = `${lines[start.line - 2] ?? ""}\n${(lines[start.line - 1] ?? "").slice(0, start.column)}`;
  return before.trimEnd().endsWith("??");
}

/** Branches of a file: how many, how many were taken, the lines of the others, and the same without defaults. */
function branchesOf(coverage) {
  const { b, branchMap } = coverage.toJSON();
  const lines = readFileSync(coverage.path, "utf8").split("\n");
  const arms = Object.entries(b).flatMap(([id, taken]) =>
    taken.map((count, arm) => {
      const { start } = branchMap[id].locations[arm] ?? branchMap[id].loc;
      const line = start.line ?? branchMap[id].loc.start.line;
      return { isTaken: count > 0, line, isDefault: isDefault(lines, branchMap[id], arm) };
    }),
  );
  const missed = arms.filter((arm) => !arm.isTaken).map((arm) => arm.line);
  const others = arms.filter((arm) => !arm.isDefault);
  return {
    total: arms.length,
    covered: arms.length - missed.length,
    others: others.length,
    coveredOthers: others.filter((arm) => arm.isTaken).length,
    missed: [...new Set(missed)].sort((x, y) => x - y),
  };
}

/** @returns 1 when a folder falls short of its aim, else 0 */
export function report(map) {
  const folders = new Map();
  for (const file of map.files().sort()) {
    const name = relative("src", file);
    const folder = name.includes("/") ? name.split("/")[0] : ".";
    const branches = branchesOf(map.fileCoverageFor(file));
    folders.set(folder, [...(folders.get(folder) ?? []), { name, ...branches }]);
  }
  let short = 0;
  for (const [folder, files] of folders) {
    const sum = (key) => files.reduce((all, file) => all + file[key], 0);
    const total = sum("total");
    const reached = percent(sum("covered"), total);
    const apart = percent(sum("coveredOthers"), sum("others"));
    const isShort = reached < aimOf(folder);
    if (isShort) short = 1;
    console.log(
      `${folder.padEnd(12)} ${reached.toFixed(2).padStart(6)} % of ${total} branches, ${apart.toFixed(2)} % without defaults of ??${isShort ? `, aim ${aimOf(folder)} %` : ""}`,
    );
    for (const { name, missed } of files)
      if (missed.length > 0 && (isShort || aimOf(folder) === 100))
        console.log(`  src/${name}: lines ${missed.join(", ")}`);
  }
  return short;
}
