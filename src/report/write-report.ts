import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { writeFolderWhole } from "../files/safe-write.ts";
import type { Watcher } from "../model/watcher.ts";
import { batchPage } from "./batch-page.ts";
import type { ReportRun } from "./report-data.ts";
import { sitePage } from "./site-page.ts";
import { sitesOf } from "./sites.ts";
import type { StoredQuality } from "./stored-quality.ts";

/**
 * Leaves a folder with a page for the batch (`index.html`) and one for each site (`sites/`), whole or not at all.
 *
 * @param path absolute path of the folder, which must not exist
 * @param shownAs the path as the user gave it
 * @param about title of the page of the batch, and quality figures to show on it
 * @returns number of site pages
 * @throws FileError when the folder exists or cannot be written
 */
export async function writeReport(
  path: string,
  shownAs: string,
  runs: readonly ReportRun[],
  about: { readonly title: string; readonly quality: readonly StoredQuality[] },
  watch: Watcher,
): Promise<number> {
  const sites = sitesOf(runs);
  await writeFolderWhole(
    path,
    async (folder) => {
      await writeFile(join(folder, "index.html"), batchPage(runs, sites, about.title, about.quality));
      await mkdir(join(folder, "sites"));
      for (const [at, site] of sites.entries()) {
        await writeFile(join(folder, "sites", site.file), sitePage(site));
        await watch("site pages", at + 1, sites.length);
      }
    },
    { shownAs },
  );
  return sites.length;
}
