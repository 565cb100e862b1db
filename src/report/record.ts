/** What somebody else needs to check the report and to run it again. */

import { formatNumber } from '../findings/formatNumber.js';
import { confidenceWords } from '../findings/words.js';
import type { Result, Study } from '../vocabulary.js';
import { type Html, html } from './html.js';

/** Fingerprint, versions, settings, and how to rerun. */
export function record(
  study: Study,
  result: Result,
  versions: Readonly<Record<string, string>>,
): Html {
  const named = Object.entries(versions).map(([name, version]) => `${name} ${version}`);
  const items: readonly (readonly [string, Html | string])[] = [
    ['Data fingerprint (SHA-256)', html`<code>${result.data_sha256}</code>`],
    ['Made with', named.length === 0 ? 'not stated' : named.join(', ')],
    [
      'Confidence of every interval that does not state its own',
      confidenceWords(result.confidence),
    ],
    [
      'Tolerance',
      `± ${formatNumber(result.tolerance_percent)} % (${study.tolerance_stated ? 'stated in the study' : 'default, because the study states none'})`,
    ],
    [
      'Limits of agreement',
      `bias ± ${formatNumber(study.limits_multiplier)} standard deviations, after Bland and Altman 1986 and 1999`,
    ],
    [
      'Uncertainty',
      'JCGM 100 (GUM), with the exact distribution of the budget where few degrees of freedom or a rectangle rule it (JCGM 101). U and k as defined there',
    ],
    ['Layout of the runs', study.layout],
  ];
  return html`<section id="record"><h2>The record</h2>
<dl>${items.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>
<h3>How to run it again</h3>
<p>With the same version of the package and the folder of the study: <code>npm start -- FOLDER --out DIR</code>. The same input gives the same bytes in <code>result.json</code> and <code>factors.json</code>; the fingerprint above tells whether the data are the same. <code>compare.ipynb</code> shows the steps.</p>
<p class="small">Figures are drawn by plotly.js (MIT licence), which is part of this file. The page asks nothing of the network.</p>
</section>`;
}
