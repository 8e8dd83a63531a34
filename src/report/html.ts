/** Text that is HTML already and goes into a page as it is. */
export class Html {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

export type HtmlPart = Html | string | number | readonly HtmlPart[] | undefined;

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Makes text of a file or a user harmless in HTML, between tags and in quoted attributes. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
}

/** HTML from a template: everything put into it is escaped unless it is HTML already; lists are joined. */
export function html(strings: TemplateStringsArray, ...parts: readonly HtmlPart[]): Html {
  return new Html(strings.map((text, at) => text + rendered(parts[at])).join(""));
}

function rendered(part: HtmlPart): string {
  if (part === undefined) return "";
  if (part instanceof Html) return part.text;
  if (typeof part === "string" || typeof part === "number") return escapeHtml(String(part));
  return part.map(rendered).join("");
}
