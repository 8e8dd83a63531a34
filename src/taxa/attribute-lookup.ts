import { at } from "../model/at.ts";
import type { CompiledAttribute } from "../model/attribute-lookup.ts";
import type { AttributeTable } from "../model/attributes.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";

const LARGEST_SCALED = 2 ** 31 - 1;
const MOST_DECIMALS = 6;

/** A value of a table that cannot be used; `taxon` names its row. */
export class AttributeValueError extends RangeError {
  readonly taxon: string;

  constructor(taxon: string, message: string) {
    super(message);
    this.name = "AttributeValueError";
    this.taxon = taxon;
  }
}

/**
 * Works out the value of every taxon: that of the lowest taxon of its line that has one. At each step of the
 * line the taxon's own row comes first, then that of the taxon it is scored as. A group named after one taxon
 * (a species complex) takes that taxon's value before it looks further up. Rows of taxa that are not in the
 * tree are passed over; `taxaNotInTree` lists them.
 *
 * Numbers are kept as whole numbers times a power of ten, so that sums are exact.
 *
 * @throws AttributeValueError when a numeric scheme holds something that is no decimal number of at most six
 *   decimals, or one outside the scheme's range
 * @throws RangeError when taxa are scored as one another in a circle
 */
export function compileAttribute(table: AttributeTable, tree: TaxonTree): CompiledAttribute {
  const own = new Int32Array(tree.size).fill(-1);
  const texts: string[] = [];
  for (const [name, value] of table.values) {
    const taxon = tree.numberOf(name);
    if (taxon === undefined) continue;
    own[taxon] = texts.length;
    texts.push(value.text);
  }
  const from = sourceRows(table, tree, own);
  const has = new Uint8Array(tree.size);
  for (let taxon = 0; taxon < has.length; taxon++) has[taxon] = at(from, taxon) < 0 ? 0 : 1;
  const shared = { scheme: table.scheme, has, from };
  if (!isNumeric(table)) {
    const categories = [...new Set(texts)];
    const numbers = texts.map((text) => categories.indexOf(text));
    const category = new Int16Array(tree.size).fill(-1);
    for (let taxon = 0; taxon < category.length; taxon++) {
      const source = at(from, taxon);
      if (source >= 0) category[taxon] = at(numbers, at(own, source));
    }
    return { ...shared, scaled: new Int32Array(tree.size), scale: 1, category, categories };
  }
  const scale = 10 ** Math.max(0, ...texts.map(decimalsOf));
  const numbers: number[] = [];
  for (const [name, { text }] of table.values) {
    const number = scaledValue(name, text, scale, table);
    if (tree.numberOf(name) !== undefined) numbers.push(number);
  }
  const scaled = new Int32Array(tree.size);
  for (let taxon = 0; taxon < scaled.length; taxon++) {
    const source = at(from, taxon);
    if (source >= 0) scaled[taxon] = at(numbers, at(own, source));
  }
  return { ...shared, scaled, scale, category: new Int16Array(tree.size).fill(-1), categories: [] };
}

/** Whether a scheme's values are numbers: it has a range or a direction. */
export function isNumeric({ scheme }: Pick<AttributeTable, "scheme">): boolean {
  return scheme.min !== undefined || scheme.max !== undefined || scheme.direction !== "";
}

/** Names of a table, values and taxa scored as another one alike, that are not in the tree. */
export function taxaNotInTree(table: AttributeTable, tree: TaxonTree): string[] {
  const names = new Set([...table.values.keys(), ...table.scoreAs.keys(), ...table.scoreAs.values()]);
  return [...names].filter((name) => tree.numberOf(name) === undefined);
}

/** The taxa that a scheme treats as another one, by number, for `AssemblyRules.scoreAs`. */
export function scoreAsTaxa(table: AttributeTable, tree: TaxonTree): Map<number, number> {
  const pairs = new Map<number, number>();
  for (const [name, target] of table.scoreAs) {
    const taxon = tree.numberOf(name);
    const scored = tree.numberOf(target);
    if (taxon !== undefined && scored !== undefined) pairs.set(taxon, scored);
  }
  return pairs;
}

/** For every taxon the one whose row gives its value; -1 where there is none. */
function sourceRows(table: AttributeTable, tree: TaxonTree, own: Int32Array): Int32Array {
  const scoreAs = scoreAsTaxa(table, tree);
  const from = new Int32Array(tree.size).fill(-2);
  const open = new Set<number>();
  const find = (taxon: number): number => {
    const known = at(from, taxon);
    if (known !== -2) return known;
    let found = at(own, taxon) >= 0 ? taxon : -1;
    const scored = scoreAs.get(taxon);
    const members = tree.operational.get(taxon)?.members;
    const named = members?.length === 1 ? tree.numberOf(at(members, 0)) : undefined;
    // A taxon that looks no further than its parents, which have lower numbers, closes no circle.
    const isOpen = found < 0 && (scored !== undefined || named !== undefined);
    if (isOpen && open.has(taxon))
      throw new RangeError(`"${tree.nameOf(taxon)}" is scored as itself in a circle`);
    if (isOpen) open.add(taxon);
    if (found < 0 && scored !== undefined) found = find(scored);
    if (found < 0 && named !== undefined) found = find(named);
    const parent = tree.parentOf(taxon);
    if (found < 0 && parent >= 0) found = find(parent);
    if (isOpen) open.delete(taxon);
    from[taxon] = found;
    return found;
  };
  for (let taxon = 0; taxon < tree.size; taxon++) find(taxon);
  return from;
}

function decimalsOf(text: string): number {
  return text.includes(".") ? (/\.(\d+)$/u.exec(text)?.[1]?.length ?? 0) : 0;
}

function scaledValue(name: string, text: string, scale: number, table: AttributeTable): number {
  const { scheme } = table;
  if (!/^-?\d{1,9}(\.\d+)?$/u.test(text) || decimalsOf(text) > MOST_DECIMALS)
    throw new AttributeValueError(name, `"${text}" of ${name} is not a decimal number`);
  const value = Number(text);
  const scaled = Math.round(value * scale);
  if (value < (scheme.min ?? value) || value > (scheme.max ?? value)) {
    const range = `${scheme.min ?? ""} to ${scheme.max ?? ""}`;
    throw new AttributeValueError(name, `"${text}" of ${name} is outside the scheme's range ${range}`);
  }
  if (Math.abs(scaled) > LARGEST_SCALED)
    throw new AttributeValueError(name, `"${text}" of ${name} is too large`);
  return scaled;
}
