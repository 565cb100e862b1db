/** The page at the bench: its frame, and its look. */
import { FONT } from '../findings/font.js';

/** Everything in it is made by its script. */
export const PAGE_HTML = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>meterpair measure</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="style.css">
<script type="module" src="page.js"></script>
</head>
<body><noscript>This page needs JavaScript.</noscript></body>
</html>
`;

/**
 * Black on white and nothing else: through eyewear of any colour what is left of a screen is light and
 * dark. Digits of 64 px and more are 12 mm high on an ordinary screen, which two metres need (20 minutes
 * of arc; common practice, no source).
 */
export const PAGE_STYLE = `
* { box-sizing: border-box; }
html { scroll-padding-bottom: 8rem; background: #fff; color: #000; font: 18px/1.4 ${FONT}; }
body { margin: 0; padding: 0.6rem 1rem; max-width: 80rem; }
h1 { font-size: 1rem; margin: 0; font-weight: 400; overflow-wrap: anywhere; }
h2 { font-size: 1rem; margin: 0.4rem 0; }
p { margin: 0.4rem 0; overflow-wrap: anywhere; }
.place { font-size: clamp(1.2rem, 4vw, 2rem); font-weight: 700; }
.message { border-left: 0.5rem solid #000; padding-left: 0.7rem; font-weight: 700; font-size: 1.2rem; }
.box { border: 3px solid #000; padding: 0.5rem 0.7rem; }
main { display: grid; gap: 1rem 2rem; grid-template-columns: minmax(0, 1fr); }
@media (min-width: 900px) { main:has(aside > *) { grid-template-columns: minmax(0, 3fr) minmax(0, 2fr); } }
.do { font-size: clamp(1.4rem, 5vw, 2.6rem); font-weight: 700; line-height: 1.2; }
.told { font-size: clamp(1.1rem, 3vw, 1.5rem); }
.meter { font-size: clamp(2.6rem, 9vw, 5.5rem); font-weight: 700; line-height: 1.1; }
.meter small { display: block; font-size: clamp(1.2rem, 4vw, 1.8rem); font-weight: 400; overflow-wrap: anywhere; }
.meter span { display: inline-block; width: 0.6em; height: 0.6em; margin-right: 0.3em; border: 0.12em solid #000; }
.meter .reference { border-radius: 50%; background: #000; }
.digits { display: flex; align-items: baseline; gap: 0.5rem; }
.digits input, .clock { font: inherit; font-size: clamp(64px, 12vw, 136px); font-weight: 700; line-height: 1.1; font-variant-numeric: tabular-nums; color: #000; background: #fff; }
.digits input { width: 100%; min-width: 0; padding: 0; border: 0; border-bottom: 6px solid #000; border-radius: 0; outline: 0; }
.digits span { flex: none; white-space: nowrap; font-size: clamp(1.6rem, 6vw, 3rem); font-weight: 700; }
.words input { font: inherit; font-size: 1.6rem; width: 100%; border: 3px solid #000; padding: 0.3rem; color: #000; background: #fff; }
input::placeholder { color: #000; opacity: 0.75; font-weight: 400; }
.clock { margin: 0; white-space: nowrap; }
.film { display: grid; gap: 1rem; grid-template-columns: minmax(0, 1fr); }
@media (min-width: 900px) { .film { grid-template-columns: minmax(0, 3fr) minmax(0, 2fr); } }
video { width: 100%; max-height: 70vh; background: #fff; border: 1px solid #000; }
.runs { font-size: 1.4rem; list-style: none; padding: 0; }
.runs [aria-current] { font-weight: 700; }
.keys { position: sticky; bottom: 0; background: #fff; border-top: 3px solid #000; margin: 0; padding: 0.5rem 0; font-weight: 700; font-size: 1.1rem; }
pre { white-space: pre-wrap; overflow-wrap: anywhere; font-size: 0.85rem; border: 1px solid #000; padding: 0.5rem; }
svg { display: block; max-width: 100%; }
svg text { font-size: 15px; fill: #000; }
.grid { stroke: #000; stroke-width: 1; stroke-dasharray: 1 5; }
polyline { fill: none; stroke: #000; stroke-width: 2; }
polyline.candidate { stroke-dasharray: 7 5; }
circle.reference { fill: #000; stroke: #000; }
rect.candidate { fill: #fff; stroke: #000; stroke-width: 2.5; }
.excluded { stroke: #000; stroke-width: 3; }
`;
