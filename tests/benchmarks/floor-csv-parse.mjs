#!/usr/bin/env node
// What csv-parse needs to read a file as arrays and do nothing with them.
//   node tests/benchmarks/floor-csv-parse.mjs FILE
import { createReadStream } from "node:fs";
import { parse } from "csv-parse";

let rows = 0;
const parser = createReadStream(process.argv[2] ?? "").pipe(parse());
parser.on("data", () => {
  rows++;
});
parser.on("end", () => console.log(rows));
