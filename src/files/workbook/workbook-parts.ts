/** A sheet of a workbook. */
export interface SheetPart {
  readonly name: string;
  readonly isHidden: boolean;
  /** Path of its part in the archive, or undefined when it is no table (a chart). */
  readonly path: string | undefined;
}

/**
 * The sheets of a workbook in the order of their tabs (ECMA-376 part 1, 18.2.19 and 18.2.20), from the text of
 * xl/workbook.xml and xl/_rels/workbook.xml.rels.
 */
export function sheetParts(workbook: string, relationships: string): SheetPart[] {
  const paths = new Map<string, string>();
  for (const attributes of tags(relationships, "Relationship")) {
    const type = attributes.get("Type") ?? "";
    const target = attributes.get("Target") ?? "";
    if (type.endsWith("/worksheet"))
      paths.set(attributes.get("Id") ?? "", target.startsWith("/") ? target.slice(1) : `xl/${target}`);
  }
  return tags(workbook, "sheet").map((attributes) => ({
    name: attributes.get("name") ?? "",
    isHidden: /^(?:hidden|veryHidden)$/.test(attributes.get("state") ?? ""),
    path: paths.get(attributes.get("id") ?? ""),
  }));
}

/** The attributes of every tag of a name, prefixes of namespaces left off. */
function tags(xml: string, name: string): Map<string, string>[] {
  const found: Map<string, string>[] = [];
  for (const [, body = ""] of xml.matchAll(new RegExp(`<(?:\\w+:)?${name}\\s([^>]*)>`, "g"))) {
    const attributes = new Map<string, string>();
    for (const [, key = "", double, single] of body.matchAll(
      /(?<!\w)(?:\w+:)?(\w+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g,
    ))
      attributes.set(key, unescapeXml(double ?? single ?? ""));
    found.push(attributes);
  }
  return found;
}

function unescapeXml(text: string): string {
  return text.replace(
    /&(?:#(\d{1,7})|#x([\da-f]{1,6})|(lt|gt|quot|apos|amp));/gi,
    (whole, decimal, hex, word) => {
      if (word !== undefined) return ENTITIES.get(word) ?? whole;
      const code = decimal === undefined ? Number.parseInt(hex, 16) : Number(decimal);
      return code <= 0x10ffff ? String.fromCodePoint(code) : whole;
    },
  );
}

const ENTITIES: ReadonlyMap<string, string> = new Map([
  ["lt", "<"],
  ["gt", ">"],
  ["quot", '"'],
  ["apos", "'"],
  ["amp", "&"],
]);
