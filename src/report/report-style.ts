/** Rules of result pages beside those of all pages. */
export const REPORT_STYLE = `
h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; break-after: avoid; }
p.back { margin: 0 0 .5rem; }
section.sample { border-top: .2rem solid var(--line); margin-top: 2rem; padding-top: .5rem; }
svg .mark, svg .fill { fill: var(--good); }
svg .track { fill: var(--band); stroke: var(--soft); }
svg.bar, svg.scale { display: block; overflow: visible; }
svg.bar { max-width: 34rem; }
@media screen and (min-width: 60rem) { svg.bar { min-width: 26rem; } }
svg.patch { margin-right: .4rem; }
span.limits { color: var(--soft); font-size: .8125rem; }
figure.scale { max-width: 48rem; }
figure.scale .class { display: inline-block; margin-right: 1rem; }
table.taxa td.share { white-space: nowrap; }
table.taxa td.share svg { float: left; margin-top: .45em; }
@media screen and (max-width: 48rem) {
table.taxa, table.taxa tbody, table.taxa thead tr { display: grid; grid-template-columns: 1fr auto auto auto; }
table.taxa tbody, table.taxa thead { grid-column: 1 / -1; grid-template-columns: subgrid; display: grid; }
table.taxa thead tr { grid-column: 1 / -1; grid-template-columns: subgrid; }
table.taxa tbody tr { display: contents; }
table.taxa thead th:first-child { display: none; }
table.taxa td.share svg { display: none; }
table.taxa tbody th { grid-column: 1 / -1; }
}
table.taxa th span { font-weight: normal; }
a { color: var(--good); }
@media print { table.taxa { font-size: 7.5pt; } table.taxa th, table.taxa td { padding: .05rem .4rem; } svg.bar { max-width: none; min-width: 16rem; } span.limits { font-size: 7.5pt; } }
`;
