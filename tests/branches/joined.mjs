// Adds the branches that the built program took to those that the tests took in their own process.

/**
 * Maps of two builds do not agree on where a branch ends, and seldom on the column where it begins. So a branch is
 * looked for at its place, then among those of as many arms that begin on the same line, in order.
 */
export function joined(inProcess, ofBuild) {
  for (const file of ofBuild.files()) {
    if (!inProcess.files().includes(file)) {
      inProcess.addFileCoverage(ofBuild.fileCoverageFor(file));
      continue;
    }
    addBranches(inProcess.fileCoverageFor(file).data, ofBuild.fileCoverageFor(file).data);
  }
  return inProcess;
}

function addBranches(to, from) {
  const waiting = Object.keys(to.branchMap).sort((a, b) => order(to.branchMap[a], to.branchMap[b]));
  const strays = [];
  const add = (id, taken) => {
    waiting.splice(waiting.indexOf(id), 1);
    to.b[id] = to.b[id].map((count, arm) => count + (taken[arm] ?? 0));
  };
  for (const [id, branch] of Object.entries(from.branchMap)) {
    const same = waiting.find(
      (other) => order(to.branchMap[other], branch) === 0 && to.b[other].length === from.b[id].length,
    );
    if (same === undefined) strays.push(id);
    else add(same, from.b[id]);
  }
  for (const id of strays.sort((a, b) => order(from.branchMap[a], from.branchMap[b]))) {
    const near = waiting.find(
      (other) =>
        Math.abs(to.branchMap[other].loc.start.line - from.branchMap[id].loc.start.line) <= 1 &&
        to.b[other].length === from.b[id].length,
    );
    if (near !== undefined) add(near, from.b[id]);
  }
}

function order(a, b) {
  return a.loc.start.line - b.loc.start.line || a.loc.start.column - b.loc.start.column;
}
