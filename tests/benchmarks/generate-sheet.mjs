#!/usr/bin/env node
import { once } from "node:events";
// Writes a large bench sheet and its sample log, the same bytes for the same arguments.
//   node tests/benchmarks/generate-sheet.mjs SAMPLES FOLDER [SEED] [--shuffle] [--sites=N]
// About 36 rows a sample: real genus names, invented counts of a log-series shape. With --shuffle the rows of all
// samples are mixed. With --sites the samples are visits of so many sites, one a year; else of sites in any years.
import { createWriteStream, mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const words = process.argv.slice(2).filter((word) => !word.startsWith("--"));
const isShuffled = process.argv.includes("--shuffle");
const sites = Number(process.argv.find((word) => word.startsWith("--sites="))?.slice(8) ?? 0);
const samples = Number(words[0] ?? 1000);
const folder = words[1];
const seed = Number(words[2] ?? 1);
if (!Number.isInteger(samples) || samples < 1 || folder === undefined) {
  console.error("usage: generate-sheet.mjs SAMPLES FOLDER [SEED] [--shuffle] [--sites=N]");
  process.exitCode = 2;
} else await generate();

/** A small generator of 32-bit numbers (mulberry32), good enough to invent counts. */
function randomNumbers(start) {
  let state = start >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

async function generate() {
  const random = randomNumbers(seed);
  const genera = generaOfInsects();
  const strata = ["upland", "valley", "lowland"];
  mkdirSync(folder, { recursive: true });
  const log = ["sample_id,site_id,collected_on,stratum,fraction_sorted"];
  const rows = [];
  for (let sample = 0; sample < samples; sample++) {
    const id = `S${String(sample + 1).padStart(6, "0")}`;
    const month = String(4 + Math.floor(random() * 7)).padStart(2, "0");
    const day = String(1 + Math.floor(random() * 28)).padStart(2, "0");
    const site = sample % (sites || 997);
    const year = 2015 + (sites ? Math.floor(sample / sites) : sample % 10);
    // A site keeps its stratum.
    const stratum = strata[(sites ? site : sample) % 3];
    log.push(`${id},P${site},${year}-${month}-${day},${stratum},0.5`);
    const taxa = 22 + Math.floor(random() * 28);
    const offset = Math.floor(random() * genera.length);
    for (let taxon = 0; taxon < taxa; taxon++) {
      const name = genera[(offset + taxon * 7) % genera.length];
      const count = 1 + Math.floor(-Math.log(1 - random()) * (90 / (1 + taxon)));
      rows.push(`${id},${name},${count},larva\n`);
    }
  }
  if (isShuffled) {
    for (let last = rows.length - 1; last > 0; last--) {
      const other = Math.floor(random() * (last + 1));
      [rows[last], rows[other]] = [rows[other], rows[last]];
    }
  }
  await writeAll(join(folder, "sample-log.csv"), [`${log.join("\n")}\n`]);
  await writeAll(join(folder, isShuffled ? "bench-sheet-shuffled.csv" : "bench-sheet.csv"), [
    "sample_id,taxon,count,life_stage\n",
    ...rows,
  ]);
  console.log(`${samples} samples, ${rows.length} rows in ${folder}`);
}

/** Genera of the insect orders that streams are judged by, from the shared tree. */
function generaOfInsects() {
  const tree = readFileSync(new URL("../../reference-tables/taxa/taxa.csv", import.meta.url), "utf8");
  const ambiguous = new Set(
    readFileSync(new URL("../../reference-tables/taxa/synonyms.csv", import.meta.url), "utf8")
      .split("\n")
      .map((line) => line.split(",")[0]),
  );
  const found = tree
    .split("\n")
    .map((line) => line.split(","))
    .filter(
      (cells) => cells[1] === "genus" && cells[4] === "" && /flies|midges|beetles|caddis/.test(cells[6]),
    )
    .map((cells) => cells[0])
    .filter((name) => !ambiguous.has(name));
  if (found.length < 300) throw new Error(`only ${found.length} genera found in the tree`);
  return found;
}

async function writeAll(path, pieces) {
  const stream = createWriteStream(path);
  let held = "";
  for (const piece of pieces) {
    held += piece;
    if (held.length < 1 << 20) continue;
    if (!stream.write(held)) await once(stream, "drain");
    held = "";
  }
  stream.end(held);
  await once(stream, "finish");
}
