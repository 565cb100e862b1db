import { ALARM, INK, REFERENCE_COLOUR } from '../figures/figure.js';
import { FONT } from '../findings/font.js';

/** The look: calm, like a printed page; readable in grey, on a phone and on A4. Nothing is below 9 pt (12 px). */
export const STYLES = `
:root { --ink: ${INK}; --soft: #4c5864; --line: #c9cfd6; --wash: #f4f6f8; --accent: ${REFERENCE_COLOUR}; --alarm: ${ALARM}; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0; color: var(--ink); background: #fff; font: 16px/1.45 ${FONT}; overflow-wrap: break-word; }
main { max-width: 68rem; margin: 0 auto; padding: 1.5rem 1.25rem 2.5rem; }
.kicker { margin: 0; color: var(--soft); font-size: 0.9rem; }
h1 { margin: 0.1rem 0 0.4rem; font-size: 1.6rem; line-height: 1.2; }
h2 { margin: 2rem 0 0.5rem; padding-top: 0.4rem; border-top: 1px solid var(--line); font-size: 1.25rem; line-height: 1.25; }
h3 { margin: 1.2rem 0 0.3rem; font-size: 1.02rem; }
p { margin: 0.4rem 0 0.6rem; max-width: 50rem; }
ul { margin: 0.3rem 0 0.8rem; padding-left: 1.1rem; max-width: 54rem; }
code { font: 0.9em/1.4 ui-monospace, "DejaVu Sans Mono", monospace; overflow-wrap: anywhere; }
.note { font-size: 0.88rem; color: var(--soft); }
.none { color: var(--soft); font-style: italic; }
.end { margin-top: 1.5rem; font-weight: 600; text-align: center; }
.beside { display: grid; grid-template-columns: minmax(0, 1.55fr) minmax(0, 1fr); gap: 1rem; align-items: start; margin-top: 0.6rem; }
.card { padding: 0.2rem 0.9rem; border: 2px solid var(--ink); border-radius: 4px; }
.card h2, .caution h2 { margin: 0.4rem 0 0.2rem; padding: 0; border: 0; }
.beside figure { margin: 0; }
.caution { margin: 0.8rem 0; padding: 0.1rem 1rem; border: 2px solid var(--alarm); border-left-width: 8px; border-radius: 4px; }
.caution li, .alarm { font-weight: 600; }
.alarm { color: var(--alarm); text-decoration: underline; }
.caution p, .caution ul { max-width: none; }
.notice { max-width: none; padding: 0.4rem 0.9rem; border: 1px solid var(--line); border-left: 5px solid var(--accent); background: var(--wash); }
table { width: 100%; margin: 0.7rem 0 0.5rem; border-collapse: collapse; font-size: 0.88rem; line-height: 1.35; font-variant-numeric: tabular-nums; }
caption { padding: 0.2rem 0; text-align: left; font-weight: 600; }
th, td { padding: 0.25rem 0.5rem; border-bottom: 1px solid var(--line); text-align: left; vertical-align: top; }
thead th { border-bottom: 1.5px solid var(--ink); vertical-align: bottom; }
tbody tr:last-child > * { border-bottom: 1.5px solid var(--ink); }
.number { text-align: right; }
td.number > span { white-space: nowrap; }
small { display: inline-block; min-width: 1.6em; font-size: inherit; color: var(--ink); text-align: right; }
small::before { content: "("; } small::after { content: ")"; }
.share-1 { background: #eef2f5; } .share-2 { background: #dde5ec; } .share-3 { background: #c3d0dc; } .share-4 { background: #a9bccd; font-weight: 600; }
#table-readings td { overflow-wrap: anywhere; }
figure { margin: 1rem 0; }
figcaption { max-width: 50rem; font-size: 0.88rem; color: var(--soft); }
figcaption strong { color: var(--ink); }
.plot { width: 100%; overflow: hidden; }
dl { margin: 0.4rem 0; }
dl > div { display: grid; grid-template-columns: 13rem 1fr; gap: 0.8rem; padding: 0.15rem 0; }
#record dl > div { border-bottom: 1px solid var(--line); }
header dl > div { grid-template-columns: max-content 1fr; }
dt { font-weight: 600; }
dd { margin: 0; overflow-wrap: anywhere; }
@media screen and (max-width: 800px) { .beside { grid-template-columns: minmax(0, 1fr); } .scroll { overflow-x: auto; } .scroll caption { position: sticky; left: 0; max-width: calc(100vw - 2.5rem); } }
@media screen and (max-width: 720px) {
  main { padding: 1rem 0.9rem 2rem; }
  h1 { font-size: 1.35rem; }
  dl > div, header dl > div { grid-template-columns: 1fr; gap: 0; }
  .grid th, .grid td { padding: 0.25rem 0.3rem; }
  .card { padding: 0.2rem 0.4rem; } .answer .grid { font-size: 0.75rem; } .answer .grid th, .answer .grid td { padding: 0.25rem 0.15rem; }
  .answer .grid, .answer .grid caption, .answer .grid thead, .answer .grid tbody { display: block; }
  .answer .grid tr { display: grid; grid-template-columns: 3.4rem minmax(0, 1fr) 4rem 2.9rem 4rem; border-bottom: 1px solid var(--line); }
  .answer .grid tr > * { border-bottom: 0; align-self: end; } .answer .grid tr > :last-child { grid-column: 2 / -1; padding-top: 0; }
  .stack, .stack caption, .stack tbody, .stack tr, .stack th, .stack td { display: block; width: 100%; }
  .stack thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .stack tbody tr { padding: 0.3rem 0; border-bottom: 1.5px solid var(--ink); }
  .stack tbody th, .stack tbody td, .stack tbody tr:last-child > * { padding: 0.1rem 0; border-bottom: 0; text-align: left; }
  .stack tbody td { display: grid; grid-template-columns: 9rem minmax(0, 1fr); gap: 0.6rem; }
  .stack td.number > span { white-space: normal; }
  .stack tbody td::before { content: attr(data-label); color: var(--soft); font-weight: 400; }
}
@media print {
  @page { size: A4; margin: 12mm 14mm 14mm; }
  html { font-size: 12.6px; }
  body { font-size: 12.6px; line-height: 1.36; }
  main { max-width: none; padding: 0; }
  .note, table, figcaption, .kicker, code { font-size: 12px; }
  h1 { font-size: 1.45rem; }
  h2 { margin-top: 1.1rem; font-size: 1.15rem; }
  p, ul, figcaption { max-width: none; }
  p { margin: 0.25rem 0 0.4rem; }
  th, td { padding: 0.13rem 0.35rem; }
  .first { break-after: page; }
  h2, h3, caption, thead, figcaption { break-after: avoid; }
  tbody tr:first-child { break-before: avoid; }
  thead { display: table-header-group; }
  tr, figure, .caution, .card, .notice, dl > div, li { break-inside: avoid; }
  p, li { orphans: 3; widows: 3; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .beside { grid-template-columns: minmax(0, 1fr) 250px; gap: 0.5rem; margin-top: 0.2rem; }
  .card { padding: 0 0.5rem; }
  .plot { width: 670px; } .beside .plot { width: 248px; }
  .plot { height: auto !important; }
  header dl { display: grid; grid-template-columns: 1fr 1fr; column-gap: 1rem; }
  .notice, .caution { margin: 0.5rem 0; }
  .short table { break-inside: avoid; }
}
`;

/** The identification and the number of each printed page, at its foot. */
export function pageMarks(name: string): string {
  const text = name.replaceAll(/[^\p{L}\p{N} .,–-]/gu, '');
  return `@page { @bottom-left { content: "${text}"; font: 12px system-ui, sans-serif; } @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 12px system-ui, sans-serif; } }
`;
}

/** One A6 sheet. */
export const CARD_STYLES = `
main { max-width: 30rem; padding: 1rem; }
h1 { font-size: 1.2rem; margin: 0; }
table { margin: 0.3rem 0; }
@media print {
  @page { size: 105mm 148mm; margin: 5mm 6mm 8mm; }
  th, td { padding: 0.08rem 0.25rem; }
  p { margin: 0.15rem 0; font-size: 12px; line-height: 1.25; }
}
`;
