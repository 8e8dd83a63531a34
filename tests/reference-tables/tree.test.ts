import { describe, expect, it } from "vitest";
import { RANKS } from "../../src/model/taxon-tree.ts";
import { repeated, sources, taxa, taxonByName } from "./tables.ts";

const RANK_NAMES: readonly string[] = RANKS;

describe("the tree of taxa", () => {
  it("has the number of rows it should", () => {
    const ofRank = (rank: string): number => taxa.filter((row) => row.rank === rank).length;
    expect(taxa).toHaveLength(2217);
    expect([ofRank("family"), ofRank("genus"), ofRank("species")]).toEqual([292, 1190, 594]);
  });

  it("names every taxon once, also when capitals are ignored", () => {
    expect(repeated(taxa.map((row) => row.taxon.toLowerCase()))).toEqual([]);
  });

  it("has exactly one root", () => {
    expect(taxa.filter((row) => row.parent === "").map((row) => row.taxon)).toEqual(["Animalia"]);
  });

  it("has known ranks, and every parent stands above its child with a coarser rank", () => {
    const place = new Map(taxa.map((row, index) => [row.taxon, index]));
    const faults = taxa.filter((row, index) => {
      const rank = RANK_NAMES.indexOf(row.rank);
      if (rank < 0) return true;
      if (row.parent === "") return false;
      const parent = taxonByName.get(row.parent);
      return (
        parent === undefined ||
        (place.get(row.parent) ?? index) >= index ||
        RANK_NAMES.indexOf(parent.rank) >= rank
      );
    });
    expect(faults).toEqual([]);
  });

  it("goes depth first, so that a taxon stands with its relatives", () => {
    const open: string[] = [];
    const astray = taxa.filter((row) => {
      while (open.length > 0 && open.at(-1) !== row.parent) open.pop();
      const found = open.length > 0 || row.parent === "";
      open.push(row.taxon);
      return !found;
    });
    expect(astray).toEqual([]);
  });

  it("names a species after its genus and a subgenus after its genus", () => {
    const astray = taxa.filter(
      (row) => ["species", "subgenus"].includes(row.rank) && row.parent !== row.taxon.split(" ")[0],
    );
    expect(astray).toEqual([]);
  });

  it("places a genus in the family named after it", () => {
    // A family takes its name from its type genus (International Code of Zoological Nomenclature, article 29), so
    // Anisogammarus cannot be in another family than Anisogammaridae. Amnicola is the one exception, kept with
    // Hydrobiidae in the wide sense because the lists score it there (README, placements).
    expect(taxonByName.get("Anisogammarus")?.parent).toBe("Anisogammaridae");
    expect(taxonByName.get("Oreogeton")?.parent).toBe("Oreogetonidae");
    expect(taxonByName.get("Amnicola")?.parent).toBe("Hydrobiidae");
  });

  it("uses a taxonomic serial number once", () => {
    const numbers = taxa.map((row) => row.tsn).filter((tsn) => tsn !== "");
    expect(numbers.filter((tsn) => !/^[1-9]\d*$/.test(tsn))).toEqual([]);
    expect(repeated(numbers)).toEqual([]);
  });

  it("has known states, policies and sources", () => {
    const known = new Set(sources.map((source) => source.source_id));
    const count = (status: string): number => taxa.filter((row) => row.status === status).length;
    expect([count("accepted"), count("legacy"), count("extralimital")]).toEqual([2185, 27, 5]);
    expect(taxa.filter((row) => !["", "count", "exclude", "release"].includes(row.count_policy))).toEqual([]);
    expect(taxa.filter((row) => !known.has(row.source_id) || !known.has(row.placement_source_id))).toEqual(
      [],
    );
    expect(taxa.filter((row) => row.common_group === "")).toEqual([]);
  });
});
