#!/usr/bin/env node
// Starts the built program; nothing else lives here.
const [major, minor] = process.versions.node.split(".").map(Number);
if (major < 20 || (major === 20 && minor < 19) || major === 21 || (major === 22 && minor < 12)) {
  process.stderr.write(
    `jartally needs Node.js 20.19 or later (21 and 22.0 to 22.11 do not work); this is ${process.versions.node}.\n`,
  );
  process.exitCode = 70;
} else {
  const words = process.argv.slice(2);
  const isQuestion = words.some((word) => ["help", "--help", "-h", "--version"].includes(word));
  const name = words[0] === "__complete" ? "complete" : isQuestion ? "help" : "cli";
  start(`../dist/${name}.cjs`, words);
}

function start(built, words) {
  try {
    require(built).main(words);
  } catch (error) {
    if (error.code !== "MODULE_NOT_FOUND" && error.code !== "ENOENT") throw error;
    process.stderr.write("jartally is not built here: run npm ci in its folder.\n");
    process.exitCode = 70;
  }
}
