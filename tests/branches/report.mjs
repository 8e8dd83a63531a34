// Prints the coverage of branches by folder, and each branch that the folder's aim leaves no room for.
import { relative } from "node:path";

const PURE = ["model", "findings", "names", "taxa", "subsample", "metrics", "scoring", "quality"];
const aimOf = (folder) => (PURE.includes(folder) ? 100 : 90);

function percent(covered, total) {
  return total === 0 ? 100 : (100 * covered) / total;
}

/** Branches of a file: how many, how many were taken, and the lines of the others. */
function branchesOf(coverage) {
  const { b, branchMap } = coverage.toJSON();
  const missed = Object.entries(b).flatMap(([id, taken]) =>
    taken.flatMap((count, arm) => {
      const { start } = branchMap[id].locations[arm] ?? branchMap[id].loc;
      return count > 0 ? [] : [start.line ?? branchMap[id].loc.start.line];
    }),
  );
  const total = Object.values(b).reduce((sum, taken) => sum + taken.length, 0);
  return { total, covered: total - missed.length, missed: [...new Set(missed)].sort((x, y) => x - y) };
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
    const total = files.reduce((sum, file) => sum + file.total, 0);
    const covered = files.reduce((sum, file) => sum + file.covered, 0);
    const reached = percent(covered, total);
    const isShort = reached < aimOf(folder);
    if (isShort) short = 1;
    console.log(
      `${folder.padEnd(12)} ${reached.toFixed(2).padStart(6)} % of ${total} branches${isShort ? `, aim ${aimOf(folder)} %` : ""}`,
    );
    for (const { name, missed } of files)
      if (missed.length > 0 && (isShort || aimOf(folder) === 100))
        console.log(`  src/${name}: lines ${missed.join(", ")}`);
  }
  return short;
}
