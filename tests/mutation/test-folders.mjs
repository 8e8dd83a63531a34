// Which folders of tests judge a folder of src.

/** Folders of src whose doing shows in whole samples only: judged by these folders of tests besides their own. */
const ALSO_TESTED_BY = {
  "scoring/intervals": ["subsample/resample", "pipeline/intervals"],
  "subsample/resample": ["scoring/intervals", "pipeline/intervals"],
};

/** Folders of tests, under `tests`, that judge this folder of src. */
export function testFoldersOf(folder) {
  return [folder, `published/${folder}`, ...(ALSO_TESTED_BY[folder] ?? [])];
}

/** The folder that judges what is mutated: one that has an entry of its own, or else the outermost one. */
export function judgedFolder(mutated) {
  const own = Object.keys(ALSO_TESTED_BY).find(
    (folder) => mutated === folder || mutated.startsWith(`${folder}/`),
  );
  return own ?? mutated.split("/")[0];
}

/** Says how often intervals hold what they are about, over many jars: too slow to be run for every mutant. */
export const LEFT_OUT = ["tests/scoring/intervals/coverage.test.ts"];
