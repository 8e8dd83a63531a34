import type { HtmlPart } from "./html.ts";
import { Html, html } from "./html.ts";

/** A column of a table on a page. */
export interface PageColumn {
  readonly name: string;
  /** `head` names the row; numbers stand to the right; `wide` takes what room there is, also on a narrow screen. */
  readonly kind?: "head" | "number" | "text" | "wide";
}

/** One cell: its content, and a class of its own where it has one. */
export type PageCell = HtmlPart | { readonly content: HtmlPart; readonly tone: string };

/**
 * A table that is a table on a desk and on paper, and on a narrow screen a list of cards in which every cell
 * carries the name of its column. Cells without content are left out of the cards.
 *
 * @param label names the table for people who do not see it; unlike every other of the page
 */
export function pageTable(
  label: string,
  columns: readonly PageColumn[],
  rows: readonly (readonly PageCell[])[],
): Html {
  const fits = columns.map((_, at): ColumnFit => {
    const texts = rows.map((row) => textOf(row[at]));
    if (texts.every((text) => text.length <= SHORT)) return "short";
    return texts.every((text) => text.split(/\s/).every((word) => word.length <= SHORT)) ? "words" : "";
  });
  const size = columns.length > MANY ? "many" : "few";
  return html`<table class="${size}" aria-label="${label}">
<thead><tr>${columns.map(({ name, kind }) => html`<th scope="col"${kind === "number" ? html` class="number"` : undefined}>${name}</th>`)}</tr></thead>
<tbody>
${rows.map((row) => html`<tr>${columns.map((column, at) => cell(column, row[at], fits[at] ?? ""))}</tr>\n`)}</tbody>
</table>
`;
}

/** Tables with more columns become cards on screens of middle width too. */
const MANY = 8;
/** Most letters of a column whose cells are kept in one line: a day, the id of a sample, an interval. */
const SHORT = 15;

/** How the cells of a column may be broken: not at all, between words only, or anywhere. */
type ColumnFit = "short" | "words" | "";

function textOf(cell: PageCell): string {
  if (typeof cell === "string") return cell;
  return cell instanceof Html ? cell.text.replace(/<[^>]*>/g, "") : "";
}

function cell({ name, kind = "text" }: PageColumn, given: PageCell, fit: ColumnFit): Html {
  const isToned = typeof given === "object" && "tone" in given;
  const content: HtmlPart = isToned ? given.content : given;
  const ofColumn = kind === "number" || kind === "wide" ? kind : fit;
  const classes = [ofColumn, isToned ? given.tone : ""].filter((one) => one !== "");
  const own = classes.length === 0 ? undefined : html` class="${classes.join(" ")}"`;
  if (kind === "head") return html`<th scope="row"${own}>${content}</th>`;
  if (content === undefined || content === "") return html`<td${own}></td>`;
  return html`<td${own} data-label="${name}">${content}</td>`;
}
