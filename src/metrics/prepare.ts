import type { CompiledAttribute } from "../model/attribute-lookup.ts";
import type { Attribute } from "../model/attributes.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import { didYouMean } from "./closest.ts";
import type { MetricEntry, MetricSetup, Preparation, PrepareKit } from "./define.ts";
import type { CompiledFilter, TaxonFilter } from "./filter.ts";
import { compileFilter } from "./filter.ts";

/**
 * Makes a metric ready for the samples of a batch: settings checked, filters worked out for every taxon.
 *
 * @param settings as the set writes them
 * @returns the metric, or every problem in words (an unknown setting, taxon or category with the closest names,
 *   an attribute for which the set names no table, a filter that no taxon passes)
 */
export function prepareMetric(
  entry: MetricEntry,
  settings: Readonly<Record<string, unknown>>,
  setup: MetricSetup,
): Preparation {
  return entry.prepare(settings, new Kit(setup));
}

class Kit implements PrepareKit {
  readonly tree: TaxonTree;
  readonly #setup: MetricSetup;
  readonly #problems: string[] = [];

  constructor(setup: MetricSetup) {
    this.#setup = setup;
    this.tree = setup.tree;
  }

  get problems(): readonly string[] {
    return this.#problems;
  }

  problem(text: string): void {
    if (!this.#problems.includes(text)) this.#problems.push(text);
  }

  filter(...filters: readonly TaxonFilter[]): CompiledFilter {
    return compileFilter(filters, this);
  }

  taxon(name: string): number | undefined {
    const taxon = this.tree.numberOf(name);
    if (taxon === undefined)
      this.problem(`the tree of taxa has no "${name}"${didYouMean(name, this.tree.names)}`);
    return taxon;
  }

  optionalAttribute(attribute: Attribute): CompiledAttribute | undefined {
    return this.#setup.attributes.get(attribute);
  }

  attribute(attribute: Attribute): CompiledAttribute {
    const compiled = this.optionalAttribute(attribute);
    if (compiled !== undefined) return compiled;
    this.problem(`it needs the attribute "${attribute}", and the set names no table for it`);
    return emptyAttribute(attribute, this.tree.size);
  }
}

function emptyAttribute(attribute: Attribute, size: number): CompiledAttribute {
  return {
    scheme: {
      scheme: "",
      attribute,
      level: "",
      direction: "",
      region: "",
      sourceId: "",
      note: "",
    },
    has: new Uint8Array(size),
    scaled: new Int32Array(size),
    scale: 1,
    category: new Int16Array(size).fill(-1),
    categories: [],
    from: new Int32Array(size).fill(-1),
  };
}
