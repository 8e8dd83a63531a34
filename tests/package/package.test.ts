import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

function run(command: string, words: readonly string[], cwd: string) {
  const result = spawnSync(command, words, { cwd, encoding: "utf8", timeout: 240_000 });
  return { status: result.status, stdout: result.stdout, stderr: result.stderr };
}

describe("the package", () => {
  it("packed and installed without development libraries in an empty folder, runs and can be imported", () => {
    const folder = freshFolder();
    const packed = run("npm", ["pack", "--ignore-scripts", "--pack-destination", folder], REPOSITORY);
    expect(packed.status).toBe(0);
    const tarball = readdirSync(folder).find((name) => name.endsWith(".tgz")) ?? "";
    const home = join(folder, "home");
    mkdirSync(home);
    writeFileSync(
      join(home, "package.json"),
      JSON.stringify({ name: "home", private: true, type: "module" }),
    );
    const installed = run(
      "npm",
      ["install", "--omit=dev", "--no-audit", "--no-fund", join(folder, tarball)],
      home,
    );
    expect(installed.status, installed.stderr).toBe(0);

    const { version } = JSON.parse(readFileSync(join(REPOSITORY, "package.json"), "utf8"));
    const bin = join(home, "node_modules/.bin/jartally");
    expect(run(bin, ["--version"], home)).toEqual({ status: 0, stdout: `${version}\n`, stderr: "" });
    expect(run(bin, ["--help"], home).stdout).toContain("Usage: jartally COMMAND");
    const demo = run(bin, ["demo", "--format", "json", "-q"], home);
    expect(JSON.parse(demo.stdout).rows).toHaveLength(37);

    writeFileSync(
      join(home, "use.mjs"),
      `import { scoreSamples, toNumber } from "jartally";
const sheet = "sample_id,taxon,count\\nA,Baetidae,3\\nA,Perlidae,1\\n";
const batch = await scoreSamples({ sheets: [{ name: "a.csv", content: sheet }], reference: "hilsenhoff-family-1988" });
for (const { score } of batch.samples) console.log(score.sampleId, toNumber(score.index), score.rating);
`,
    );
    // Baetidae 4 and Perlidae 1 in the family list of Hilsenhoff 1988 (values from memory): (3 x 4 + 1 x 1) / 4 = 3.25
    expect(run(process.execPath, ["use.mjs"], home)).toEqual({
      status: 0,
      stdout: "A 3.25 excellent\n",
      stderr: "",
    });
  }, 300_000);

  it("gives types to those who import it", () => {
    const types = readFileSync(join(REPOSITORY, "dist/types/index.d.ts"), "utf8");
    expect(types).toContain("scoreSamples");
    const folder = freshFolder();
    writeFileSync(
      join(folder, "use.mts"),
      `import { scoreSamples } from ${JSON.stringify(join(REPOSITORY, "dist/types/index.js"))};
const batch = await scoreSamples({ sheets: ["a.csv"], reference: "x" });
for (const { score } of batch.samples) { const rating: string = score.rating; console.log(rating); }
// @ts-expect-error a seed is a text
await scoreSamples({ sheets: [], reference: "x", seed: 1 });
`,
    );
    const checked = run(
      process.execPath,
      [
        join(REPOSITORY, "node_modules/typescript/bin/tsc"),
        "--noEmit",
        "--strict",
        "--module",
        "nodenext",
        "--target",
        "es2023",
        "--types",
        "node",
        "--typeRoots",
        join(REPOSITORY, "node_modules/@types"),
        "--skipLibCheck",
        "use.mts",
      ],
      folder,
    );
    expect(checked.stdout + checked.stderr).toBe("");
  }, 120_000);
});
