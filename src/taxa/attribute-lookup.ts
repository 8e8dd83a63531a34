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

/** A taxon whose value is to be looked up at its own place again; `taxon` is scored as another one. */
export class ScoreAsCircleError extends RangeError {
  readonly taxon: string;

  constructor(taxon: string) {
    super(`"${taxon}" is scored as itself in a circle`);
    this.name = "ScoreAsCircleError";
    this.taxon = taxon;
  }
}

/**
 * Works out the value of every taxon: that of the lowest taxon of its line that has one. At each step of the
 * line the taxon's own row comes first, then that of the taxon it is scored as. A group named after one taxon
 * (a species complex) takes that taxon's value before it looks further up. A family scored as a genus of its own
 * that has no value takes what stands above the family. Rows of taxa that are not in the tree are passed over;
 * `taxaNotInTree` lists them.
 *
 * Numbers are kept as whole numbers times a power of ten, so that sums are exact.
 *
 * @throws AttributeValueError when a numeric scheme holds something that is no decimal number of at most six
 *   decimals, or one outside the scheme's range
 * @throws ScoreAsCircleError when taxa are scored as one another in a circle
 */
export function compileAttribute(table: AttributeTable, tree: TaxonTree): CompiledAttribute {
  const { own, texts } = ownValues(table, tree);
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

/**
 * A taxon that is scored as another one whose value would come from that taxon again; undefined when there is none.
 */
export function scoredInCircle(table: AttributeTable, tree: TaxonTree): string | undefined {
  if (table.scoreAs.size === 0) return undefined;
  try {
    sourceRows(table, tree, ownValues(table, tree).own);
  } catch (error) {
    if (error instanceof ScoreAsCircleError) return error.taxon;
    throw error;
  }
  return undefined;
}

/** The values of taxa of the tree as written, and for every taxon the number of its own; -1 where there is none. */
function ownValues(table: AttributeTable, tree: TaxonTree) {
  const own = new Int32Array(tree.size).fill(-1);
  const texts: string[] = [];
  for (const [name, value] of table.values) {
    const taxon = tree.numberOf(name);
    if (taxon === undefined) continue;
    own[taxon] = texts.length;
    texts.push(value.text);
  }
  return { own, texts };
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
  /** Taxa without a value of their own that are being looked up at another one, the last of them last. */
  const open: number[] = [];
  const find = (taxon: number): number => {
    const known = at(from, taxon);
    if (known !== -2) return known;
    let found = at(own, taxon) >= 0 ? taxon : -1;
    const scored = scoreAs.get(taxon);
    const members = tree.operational.get(taxon)?.members;
    const named = members?.length === 1 ? tree.numberOf(at(members, 0)) : undefined;
    // A taxon that looks no further than its parents, which have lower numbers, closes no circle.
    const isOpen = found < 0 && (scored !== undefined || named !== undefined);
    if (isOpen && open.includes(taxon)) throw new ScoreAsCircleError(tree.nameOf(taxon));
    if (isOpen) open.push(taxon);
    if (found < 0 && scored !== undefined) found = find(scored);
    if (found < 0 && named !== undefined) found = find(named);
    if (isOpen) open.pop();
    if (found < 0) found = findAbove(taxon);
    from[taxon] = found;
    return found;
  };
  const findAbove = (taxon: number): number => {
    const parent = tree.parentOf(taxon);
    if (parent < 0) return -1;
    // The way up from a genus passes by the family that is scored as it.
    return parent === open.at(-1) ? findAbove(parent) : find(parent);
  };
  for (let taxon = 0; taxon < tree.size; taxon++) find(taxon);
  return from;
}

function decimalsOf(text: string): number {
  const decimals = /\.\d+$/u.exec(text);
  return decimals === null ? 0 : decimals[0].length - 1;
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
