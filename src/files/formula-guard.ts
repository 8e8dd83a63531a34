/** Characters with which a spreadsheet program starts a formula. */
const GUARDED = /^'*[=+\-@\t\r]/;

/** Puts an apostrophe before a text that a spreadsheet program would run as a formula (CWE-1236). */
export function withGuard(text: string): string {
  return GUARDED.test(text) ? `'${text}` : text;
}

/** Takes one apostrophe off again: the exact opposite of `withGuard`. */
export function withoutGuard(text: string): string {
  return text.startsWith("'") && GUARDED.test(text) ? text.slice(1) : text;
}
