/** What the means of the series say of agreement. */

import { meansSentences } from '../findings/meansSentences.js';
import type { Result } from '../vocabulary.js';
import { type Html, html } from './html.js';

/** Nothing where there is a single series. */
export function meansList(result: Result): Html | null {
  if (result.agreement.series < 2) return null;
  return html`<section id="means"><h2>What the means of the series say</h2>
<p>Each series counts once, because laps of one series repeat what is peculiar to it. Not shown is no no: with few series hardly anything can be shown.</p>
<ul class="reasons">${meansSentences(result).map((sentence) => html`<li>${sentence}</li>`)}</ul>
</section>`;
}
