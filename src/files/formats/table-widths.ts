import { shownWidth } from "./text-width.ts";

/** What the widths of a table are worked out from. */
export interface WidthRequest {
  readonly names: readonly string[];
  /** Widest cell of each column below the header. */
  readonly content: readonly number[];
  /** Whether the cells of a column may be cut: text may, a number never. */
  readonly canShrink: readonly boolean[];
  readonly gap: number;
  /** Width of the terminal. */
  readonly total: number;
}

/** Narrowest a column of text is cut to. */
const NARROWEST = 8;

/**
 * Gives each column a width. Names are broken at underscores when the table is too wide; then the widest columns
 * of text are cut, one column of the terminal at a time; numbers are never cut, so the table may stay too wide.
 */
export function fitWidths(request: WidthRequest): number[] {
  const { names, content, canShrink, gap, total } = request;
  const room = total - gap * Math.max(0, names.length - 1);
  const widths = names.map((name, at) => Math.max(shownWidth(name), content[at] ?? 0));
  if (sum(widths) <= room) return widths;
  const broken = names.map((name, at) =>
    Math.max(content[at] ?? 0, ...brokenName(name).map((part) => shownWidth(part))),
  );
  // Names are left whole from the left as long as there is room.
  let left = room - sum(broken);
  if (left >= 0) {
    return broken.map((width, at) => {
      const more = (widths[at] ?? width) - width;
      if (more > left) return width;
      left -= more;
      return width + more;
    });
  }
  for (let over = -left; over > 0; over--) {
    let widest = -1;
    broken.forEach((width, at) => {
      if (canShrink[at] === true && width > NARROWEST && width > (broken[widest] ?? 0)) widest = at;
    });
    if (widest < 0) break;
    broken[widest] = (broken[widest] ?? 0) - 1;
  }
  return broken;
}

/** The lines of a header whose names are broken to fit their columns, standing on the rule below them. */
export function headerLines(names: readonly string[], widths: readonly number[]): string[][] {
  const parts = names.map((name, at) => fill(name, widths[at] ?? 0));
  const height = Math.max(1, ...parts.map((part) => part.length));
  return Array.from({ length: height }, (_, line) =>
    parts.map((part) => part[line - (height - part.length)] ?? ""),
  );
}

/** A name in as few lines as fit the width. */
function fill(name: string, width: number): string[] {
  if (shownWidth(name) <= width) return [name];
  const lines: string[] = [];
  for (const part of brokenName(name)) {
    const last = lines[lines.length - 1];
    if (last !== undefined && shownWidth(last) + shownWidth(part) <= width)
      lines[lines.length - 1] = last + part;
    else lines.push(part);
  }
  return lines;
}

function brokenName(name: string): string[] {
  return name.match(/[^_]*_|[^_]+$/g) ?? [name];
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
