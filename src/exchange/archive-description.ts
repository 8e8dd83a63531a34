import type { ArchiveTable } from "./darwin-core-terms.ts";

/**
 * The meta.xml of a Darwin Core archive, by the text guide of the standard
 * (http://rs.tdwg.org/dwc/terms/guides/text/): the core and its extensions, each with its file, how that is
 * written, and the term of every column. The first column of each is the id of the event.
 */
export function archiveDescription([core, ...extensions]: readonly [
  ArchiveTable,
  ...ArchiveTable[],
]): string {
  return `<?xml version="1.0" encoding="UTF-8"?>
<archive xmlns="http://rs.tdwg.org/dwc/text/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://rs.tdwg.org/dwc/text/ http://rs.tdwg.org/dwc/text/tdwg_dwc_text.xsd">
${tableElement("core", "id", core)}${extensions.map((table) => tableElement("extension", "coreid", table)).join("")}</archive>
`;
}

function tableElement(element: string, idElement: string, { file, rowType, terms }: ArchiveTable): string {
  const fields = terms.map(({ uri }, at) => `    <field index="${at}" term="${uri}"/>\n`);
  return `  <${element} encoding="UTF-8" fieldsTerminatedBy="," linesTerminatedBy="\\n" fieldsEnclosedBy="&quot;" ignoreHeaderLines="1" rowType="${rowType}">
    <files>
      <location>${file}</location>
    </files>
    <${idElement} index="0"/>
${fields.join("")}  </${element}>
`;
}
