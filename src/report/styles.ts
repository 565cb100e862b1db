/** The look: calm, like a printed page; readable in grey, on a phone and on A4. */
export const STYLES = `
:root { --ink: #1d2733; --soft: #4c5864; --line: #c9cfd6; --wash: #f4f6f8; --accent: #17456b; --alarm: #8c1d1d; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0; color: var(--ink); background: #fff; font: 16px/1.5 system-ui, "Segoe UI", "DejaVu Sans", sans-serif; overflow-wrap: anywhere; }
header, main, footer { max-width: 66rem; margin: 0 auto; padding: 0 1.25rem; }
header { padding-top: 1.75rem; }
.kicker { margin: 0; color: var(--soft); font-size: 0.9rem; letter-spacing: 0.02em; }
h1 { margin: 0.2rem 0 0.4rem; font-size: 1.7rem; line-height: 1.2; }
h2 { margin: 2.4rem 0 0.6rem; padding-top: 0.5rem; border-top: 1px solid var(--line); font-size: 1.3rem; line-height: 1.25; }
h3 { margin: 1.4rem 0 0.4rem; font-size: 1.05rem; }
p { margin: 0.5rem 0 0.8rem; max-width: 46rem; }
ul { margin: 0.5rem 0 1rem; padding-left: 1.2rem; max-width: 46rem; }
a { color: var(--accent); }
code { font: 0.88em/1.4 ui-monospace, "DejaVu Sans Mono", monospace; background: var(--wash); padding: 0.05em 0.3em; }
.small, .reasons { font-size: 0.9rem; color: var(--soft); }
.reasons strong { color: var(--ink); }
.none { color: var(--soft); font-style: italic; }
nav ul { display: flex; flex-wrap: wrap; gap: 0.2rem 1rem; padding: 0; margin: 1rem 0 0; list-style: none; font-size: 0.9rem; max-width: none; }
.card { margin: 1.25rem 0; padding: 0.25rem 1.25rem 0.75rem; border: 2px solid var(--ink); border-radius: 4px; }
.card h2, .caution h2 { margin-top: 0.6rem; border-top: 0; padding-top: 0; }
.card .lead { font-size: 1.05rem; }
.card p { max-width: none; }
.factor { font-size: 1.3rem; }
.verdict { display: inline-block; padding: 0.05rem 0.45rem; border: 1.5px solid var(--ink); border-radius: 3px; font-weight: 600; white-space: nowrap; }
.verdict.correct-it { background: var(--ink); color: #fff; }
.verdict.not-shown { border-style: dashed; white-space: normal; }
.open { margin: 0.75rem 0; padding: 0.1rem 0.9rem; border: 1.5px dashed var(--ink); background: var(--wash); }
.notice { padding: 0.5rem 0.9rem; border: 1px solid var(--line); border-left: 5px solid var(--accent); background: var(--wash); }
.caution, .caution-inline { padding: 0.1rem 1.25rem; border: 2px solid var(--alarm); border-left-width: 8px; border-radius: 4px; }
.caution-inline { padding: 0.1rem 0.9rem; max-width: 48rem; }
.alarm { color: var(--alarm); text-decoration: underline; }
.plain { font-weight: 400; }
table { width: 100%; margin: 1rem 0 1.4rem; border-collapse: collapse; font-size: 0.9rem; font-variant-numeric: tabular-nums; overflow-wrap: break-word; }
caption { padding: 0.2rem 0; text-align: left; font-weight: 600; }
th, td { padding: 0.35rem 0.6rem; border-bottom: 1px solid var(--line); text-align: left; vertical-align: top; }
thead th { border-bottom: 1.5px solid var(--ink); vertical-align: bottom; font-weight: 600; }
tbody th { font-weight: 600; }
.number { text-align: right; }
.together, td.number:not(.breaks) > span { white-space: nowrap; }
tbody th { min-width: 6rem; }
tbody tr:last-child > * { border-bottom: 1.5px solid var(--ink); }
figure { margin: 1.2rem 0; }
figcaption { max-width: 46rem; font-size: 0.92rem; color: var(--soft); }
figcaption strong { color: var(--ink); }
.plot { width: 100%; overflow: hidden; }
summary { cursor: pointer; font-weight: 600; }
dl { margin: 0.5rem 0; }
dl > div { display: grid; grid-template-columns: 16rem 1fr; gap: 1rem; padding: 0.3rem 0; border-bottom: 1px solid var(--line); }
dt { font-weight: 600; }
dd { margin: 0; }
footer { padding-top: 1rem; padding-bottom: 2.5rem; }
@media screen and (max-width: 720px) {
  header, main, footer { padding-left: 0.9rem; padding-right: 0.9rem; }
  .card, .caution { padding-left: 0.8rem; padding-right: 0.8rem; }
  h1 { font-size: 1.4rem; }
  dl > div { grid-template-columns: 1fr; gap: 0; }
  table, caption, tbody, tr, th, td { display: block; width: 100%; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tbody tr { padding: 0.4rem 0; border-bottom: 1.5px solid var(--ink); }
  tbody th, tbody td, tbody tr:last-child > * { padding: 0.12rem 0; border-bottom: 0; }
  tbody th { font-size: 1.02rem; }
  tbody td { display: grid; grid-template-columns: 9.5rem minmax(0, 1fr); gap: 0.6rem; text-align: left; }
  tbody td.number { text-align: left; }
  td.number:not(.breaks) > span { white-space: normal; }
  tbody td::before { content: attr(data-label); color: var(--soft); }
  tbody td:has(> span:empty) { display: none; }
}
@media print {
  @page { size: A4; margin: 15mm 14mm; }
  html { font-size: 12.5px; }
  body { font-size: 1rem; line-height: 1.4; }
  .verdict.correct-it { background: none; color: inherit; border-width: 2.5px; }
  header, main, footer { max-width: none; padding: 0; }
  nav, details:not([open]) { display: none; }
  a { color: inherit; text-decoration: none; }
  h2, h3, caption { break-after: avoid; }
  h2 { margin-top: 1.4rem; }
  table { font-size: 0.88rem; }
  p, ul, figcaption, .caution-inline { max-width: none; }
  thead { break-after: avoid; }
  tbody tr:first-child { break-before: avoid; }
  th, td { padding: 0.2rem 0.4rem; }
  thead { display: table-header-group; }
  tr, figure, .caution, .open, .notice, .caution-inline { break-inside: avoid; }
  p, li { orphans: 3; widows: 3; }
  .plot { width: 670px; }
}
`;
