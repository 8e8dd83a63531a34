/** Rules of result pages beside those of all pages. */
export const REPORT_STYLE = `
h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; break-after: avoid; }
tbody th { white-space: nowrap; vertical-align: top; }
section.sample { border-top: .2rem solid var(--line); margin-top: 2rem; padding-top: .5rem; }
svg.scale { width: 100%; min-width: 34rem; }
svg .mark, svg .fill { fill: var(--good); }
svg.bar { min-width: 0; vertical-align: middle; color: var(--soft); }
a { color: var(--good); }
ul.facts { padding-left: 1.2rem; }
@media print { svg.scale { min-width: 0; } tbody th { white-space: normal; } }
`;
