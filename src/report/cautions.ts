/** What has to be read before anybody acts on the report with a laser. */

import { LASER_CAUTIONS } from '../findings/words.js';
import type { Factors } from '../vocabulary.js';
import { type Html, html } from './html.js';

/** Cautions of laser work, the deferral to standard and officer, and those that the factors carry. */
export function cautions(factors: Factors): Html {
  const own = factors.cautions.map((text) => html`<li>${text}</li>`);
  return html`<section class="caution" id="cautions" aria-labelledby="cautions-title">
<h2 id="cautions-title">Before you act on this with a laser</h2>
<ul>${LASER_CAUTIONS.map((text) => html`<li>${text}</li>`)}</ul>
${own.length === 0 ? null : html`<h3>Cautions that go with these factors</h3><ul>${own}</ul>`}
</section>`;
}
