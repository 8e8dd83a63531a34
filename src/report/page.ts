import type { Html } from "./html.ts";
import { html } from "./html.ts";

/** A table as a list of cards: what `pageTable` makes of rows where there is no room for columns. */
function cards(table: string): string {
  return `${table} thead { position: absolute; clip-path: inset(50%); width: 1px; height: 1px; overflow: hidden; }
${table}, ${table} tbody { display: block; }
${table} tr { display: flex; flex-direction: column; border-bottom: 1px solid var(--line); padding: .4rem 0; }
${table} th, ${table} td { display: flex; gap: 1rem; justify-content: space-between; border: 0; padding: .1rem .4rem; text-align: right; white-space: normal; }
${table} th { justify-content: flex-start; order: -1; }
${table} td::before { content: attr(data-label); color: var(--soft); text-align: left; flex: none; max-width: 50%; }
${table} td:empty { display: none; }
${table} td.wide { display: block; text-align: left; }
${table} td.wide::before { display: block; }
`;
}

/** Colours stand apart in lightness too; text keeps at least 4.5 to 1 on its ground, in light and dark. */
const STYLE = `
:root { color-scheme: light dark; --ink: #1b1f23; --ground: #ffffff; --soft: #57606a; --line: #c4ccd4; --band: #f3f5f7; --good: #00527d; --bad: #a33b00; }
@media (prefers-color-scheme: dark) { :root { --ink: #e6edf3; --ground: #12161b; --soft: #a9b4bf; --line: #3b444d; --band: #1c2229; --good: #7cc4f0; --bad: #ffa266; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.5rem 1rem 3rem; max-width: 72rem; font: 1rem/1.5 system-ui, sans-serif; color: var(--ink); background: var(--ground); }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0 0 .5rem; }
h2 { font-size: 1.2rem; margin: 2rem 0 .5rem; }
.verdict { font-size: 1.1rem; border-left: .4rem solid var(--line); padding: .3rem .8rem; margin: 1rem 0; }
.verdict.pass { border-color: var(--good); }
.verdict.fail { border-color: var(--bad); }
.soft { color: var(--soft); }
code { overflow-wrap: anywhere; }
p.explains { color: var(--soft); font-size: .875rem; max-width: 60rem; margin: 0 0 .5rem; }
table { border-collapse: collapse; font-size: .875rem; font-variant-numeric: tabular-nums; margin: .5rem 0; }
th, td { padding: .25rem .6rem; border-bottom: 1px solid var(--line); text-align: left; vertical-align: top; overflow-wrap: anywhere; }
th { background: var(--band); vertical-align: bottom; overflow-wrap: normal; }
tbody th { vertical-align: top; }
th.number, td.number { text-align: right; white-space: nowrap; }
td.short, th.short { white-space: nowrap; }
td.words, th.words { overflow-wrap: normal; }
td.pass { color: var(--good); }
td.fail { color: var(--bad); font-weight: 600; }
figure { margin: 1rem 0; break-inside: avoid; }
figure svg { max-width: 100%; height: auto; display: block; }
figure svg.scale { height: 98px; }
figcaption { color: var(--soft); font-size: .875rem; }
.narrow { display: none; }
@media screen and (max-width: 48rem) {
.broad { display: none; }
.narrow { display: revert; }
${cards("table.few")}}
@media screen and (max-width: 66rem) {
${cards("table.many")}}
@media print { @page { margin: 15mm; } html { font-size: 10pt; } body { padding: 0; max-width: none; } table { font-size: 8pt; } th, td { padding: .15rem .4rem; } th.number, td.number { white-space: normal; } tr { break-inside: avoid; } h2 { break-after: avoid; } }
`.trim();

/**
 * A whole page that stands alone: no script, nothing from the network, readable in the light, in the dark and
 * on paper.
 *
 * @param style rules of this kind of page beside those of all pages
 */
export function page(title: string, body: Html, style = ""): string {
  const head = html`<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<title>${title}</title>`;
  return `<!doctype html>
<html lang="en">
<head>
${head.text}
<style>
${STYLE}${style}
</style>
</head>
<body>
${body.text}
</body>
</html>
`;
}
