#!/usr/bin/env node
// The same five metrics, scores, sum and rating in SQL, as a user of DuckDB would write them.
//   BENCH_NPM=FOLDER_WITH_NODE_MODULES node tests/benchmarks/peer-duckdb.mjs FOLDER SHEET OUT
// Needs the npm package @duckdb/node-api in that folder. Names are taken as they stand, nothing is checked.
import { createRequire } from "node:module";
import { join } from "node:path";

const { DuckDBInstance } = createRequire(join(process.env.BENCH_NPM ?? ".", "here.js"))("@duckdb/node-api");
const [folder = ".", sheet = "bench-sheet.csv", out = "duckdb.csv"] = process.argv.slice(2);
const instance = await DuckDBInstance.create(":memory:", { threads: process.env.DUCKDB_THREADS ?? "2" });
const connection = await instance.connect();
const score = (value, low, high, isHighGood) =>
  `CASE WHEN ${value} < ${low} THEN ${isHighGood ? 1 : 5} WHEN ${value} < ${high} THEN 3 ELSE ${isHighGood ? 5 : 1} END`;
await connection.run(`
COPY (
  WITH piles AS (
    SELECT sample_id, taxon, sum("count")::BIGINT AS animals
    FROM read_csv('${join(folder, sheet)}', header = true, columns = {'sample_id': 'VARCHAR', 'taxon': 'VARCHAR', 'count': 'BIGINT', 'life_stage': 'VARCHAR'})
    WHERE "count" > 0 GROUP BY ALL
  ), metrics AS (
    SELECT sample_id, sum(animals) AS total, count(*) AS richness, sum(coalesce(ept, 0)) AS ept_richness,
      100.0 * max(animals) / sum(animals) AS dominant,
      sum(animals * tolerance) / sum(CASE WHEN tolerance IS NOT NULL THEN animals END) AS mean_tolerance,
      ln(sum(animals)) - sum(animals * ln(animals)) / sum(animals) AS shannon
    FROM piles LEFT JOIN read_csv('${join(folder, "plain-taxa.csv")}') AS taxa USING (taxon) GROUP BY sample_id
  ), scored AS (
    SELECT metrics.*, stratum, site_id, collected_on,
      ${score("richness", 23.5, 31.5, true)} AS s1, ${score("ept_richness", 8.5, 14.5, true)} AS s2,
      ${score("dominant", 24.37, 38.61, false)} AS s3, ${score("mean_tolerance", 4.0137, 5.2171, false)} AS s4,
      ${score("shannon", 2.207, 2.713, true)} AS s5
    FROM metrics LEFT JOIN read_csv('${join(folder, "sample-log.csv")}', all_varchar = true) AS samples USING (sample_id)
  )
  SELECT *, s1 + s2 + s3 + s4 + s5 AS index,
    CASE WHEN index >= 18.5 THEN 'good' WHEN index >= 12.5 THEN 'fair' ELSE 'poor' END AS rating
  FROM scored ORDER BY sample_id
) TO '${out}' (HEADER, DELIMITER ',')`);
