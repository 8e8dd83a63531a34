import { type Zippable, zipSync } from "fflate";

/** A cell of a test workbook: text, number, or XML of its own with the place already in it. */
export type TestCell = string | number | null | { readonly xml: string };

/** Sheets by name, rows of cells from A1 on. */
export interface TestSheet {
  readonly name: string;
  readonly rows: readonly (readonly TestCell[])[];
  readonly state?: "hidden" | "veryHidden";
}

/** The parts of a workbook as a spreadsheet program writes them (ECMA-376), the least that one needs. */
export function workbookParts(sheets: readonly TestSheet[]): Record<string, Uint8Array> {
  const parts: Record<string, string> = {
    "[Content_Types].xml":
      '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>',
    "xl/workbook.xml": `<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>${sheets
      .map(
        (sheet, at) =>
          `<sheet name="${escapeXml(sheet.name)}" sheetId="${at + 1}"${sheet.state ? ` state="${sheet.state}"` : ""} r:id="rId${at + 1}"/>`,
      )
      .join("")}</sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${sheets
      .map(
        (_, at) =>
          `<Relationship Id="rId${at + 1}" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet${at + 1}.xml"/>`,
      )
      .join(
        "",
      )}<Relationship Id="rIdS" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>`,
    // Format 1 is a date (numFmtId 14).
    "xl/styles.xml":
      '<?xml version="1.0"?><styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>',
  };
  sheets.forEach((sheet, at) => {
    parts[`xl/worksheets/sheet${at + 1}.xml`] = sheetXml(sheet.rows);
  });
  const encoder = new TextEncoder();
  return Object.fromEntries(Object.entries(parts).map(([path, text]) => [path, encoder.encode(text)]));
}

/** The XML of a sheet. */
export function sheetXml(rows: TestSheet["rows"]): string {
  const body = rows.map((row, r) => {
    const cells = row.map((cell, c) => cellXml(cell, `${columnName(c + 1)}${r + 1}`)).join("");
    return cells === "" ? "" : `<row r="${r + 1}">${cells}</row>`;
  });
  return `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${body.join("")}</sheetData></worksheet>`;
}

/** A workbook as bytes. */
export function workbook(sheets: readonly TestSheet[]): Uint8Array {
  return zipParts(workbookParts(sheets));
}

/** Parts packed into an archive. */
export function zipParts(parts: Record<string, Uint8Array>): Uint8Array {
  const files: Zippable = { ...parts };
  return zipSync(files, { level: 6 });
}

function cellXml(cell: TestCell, name: string): string {
  if (cell === null) return "";
  if (typeof cell === "number") return `<c r="${name}"><v>${cell}</v></c>`;
  if (typeof cell === "string")
    return `<c r="${name}" t="inlineStr"><is><t xml:space="preserve">${escapeXml(cell)}</t></is></c>`;
  return cell.xml.replace("@", name);
}

function columnName(column: number): string {
  const high = Math.floor((column - 1) / 26);
  const low = String.fromCharCode(65 + ((column - 1) % 26));
  return high === 0 ? low : columnName(high) + low;
}

function escapeXml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}
