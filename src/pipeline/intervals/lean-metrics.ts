import type { LeanForm } from "../../metrics/lean.ts";
import type { LeanMetric, WeightedEntries } from "../../scoring/intervals/lean-model.ts";

/** A metric over the entries of a sample, from its form over all taxa. */
export function leanMetric(form: LeanForm | undefined, metric: number, taxa: Int32Array): LeanMetric {
  if (form === undefined) return { kind: "other", metric };
  switch (form.kind) {
    case "animals":
      return {
        ...form,
        above: weighted(form.above, taxa),
        below: form.below && weighted(form.below, taxa),
      };
    case "taxa": {
      const entries = masked(form.mask, taxa);
      return { kind: "taxa", entries, groups: form.groups && grouped(form.groups, entries, taxa) };
    }
    case "taxa-quotient":
      return { ...form, above: masked(form.above, taxa), below: form.below && masked(form.below, taxa) };
    case "taxa-sum": {
      const { kind, scale, each, result, times } = form;
      const entries = entriesWhere(taxa, (taxon) => !Number.isNaN(form.weights[taxon] as number));
      const members = { entries, weights: weightsOf(entries, form.weights, taxa) };
      return { kind, members, scale, each, result, times };
    }
    case "dominants":
    case "shannon": {
      const { mask, groups, ...rest } = form;
      const entries = masked(mask, taxa);
      return { ...rest, entries, groups: groups && grouped(groups, entries, taxa) };
    }
  }
}

function weighted(weights: Int32Array | Uint8Array, taxa: Int32Array): WeightedEntries {
  const entries = entriesWhere(taxa, (taxon) => weights[taxon] !== 0);
  return { entries, weights: weightsOf(entries, weights, taxa) };
}

function weightsOf(entries: Int32Array, weights: ArrayLike<number>, taxa: Int32Array): Float64Array {
  const own = new Float64Array(entries.length);
  for (let at = 0; at < own.length; at++) own[at] = weights[taxa[entries[at] as number] as number] as number;
  return own;
}

function masked(mask: Uint8Array, taxa: Int32Array): Int32Array {
  return entriesWhere(taxa, (taxon) => mask[taxon] === 1);
}

function entriesWhere(taxa: Int32Array, holds: (taxon: number) => boolean): Int32Array {
  const entries = new Int32Array(taxa.length);
  let size = 0;
  for (let entry = 0; entry < taxa.length; entry++) if (holds(taxa[entry] as number)) entries[size++] = entry;
  return entries.slice(0, size);
}

/** Numbers of the groups of entries, from 0 on in the order in which they are met. */
function grouped(groups: Int32Array, entries: Int32Array, taxa: Int32Array): Int32Array {
  const numbers = new Map<number, number>();
  return Int32Array.from(entries, (entry) => {
    const taxon = taxa[entry] as number;
    const group = groups[taxon] ?? taxon;
    const known = numbers.get(group);
    if (known !== undefined) return known;
    numbers.set(group, numbers.size);
    return numbers.size - 1;
  });
}
