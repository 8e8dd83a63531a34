// Leads the coverage that node writes for the built program back to src, by the maps of the build.
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { mergeProcessCovs } from "@bcoe/v8-coverage";
import { convert } from "ast-v8-to-istanbul";
import libCoverage from "istanbul-lib-coverage";
import { parseAstAsync } from "vitest/node";

const DIST = pathToFileURL(resolve("dist")).href;
/** Runs of the program that are added up at a time; a run writes about half a megabyte. */
const AT_A_TIME = 40;

/** Adds up what all runs of the program wrote, only of its own scripts. */
function addUp(folder) {
  let sum = { result: [] };
  let waiting = [];
  const files = readdirSync(folder);
  files.forEach((file, at) => {
    const { result } = JSON.parse(readFileSync(join(folder, file), "utf8"));
    waiting.push({ result: result.filter(({ url }) => url.startsWith(DIST)) });
    if (waiting.length < AT_A_TIME && at + 1 < files.length) return;
    sum = mergeProcessCovs([sum, ...waiting]);
    waiting = [];
  });
  return sum.result;
}

/**
 * Coverage of src by the runs of the built program.
 *
 * @param folder where node left its files (NODE_V8_COVERAGE)
 */
export async function coverageOfBuild(folder) {
  const map = libCoverage.createCoverageMap({});
  for (const script of addUp(folder)) {
    const file = fileURLToPath(script.url);
    const code = readFileSync(file, "utf8");
    const sourceMap = JSON.parse(readFileSync(`${file}.map`, "utf8"));
    sourceMap.sources = sourceMap.sources.map((source) => resolve(dirname(file), source));
    map.merge(
      await convert({ code, sourceMap, ast: parseAstAsync(code), coverage: script, wrapperLength: 0 }),
    );
  }
  map.filter((file) => file.startsWith(resolve("src")));
  return map;
}
