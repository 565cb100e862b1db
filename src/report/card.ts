/** The answer: a card that can be cut out and kept beside the candidate. */

import { factorWarnings } from '../findings/findingWords.js';
import { formatInterval, formatNumber, formatRelative } from '../findings/formatNumber.js';
import { roundUncertain } from '../findings/formatUncertain.js';
import {
  BEYOND_WORDS,
  confidenceWords,
  DIRECTION,
  factorLines,
  isBeyondTolerance,
  isSettled,
  referenceOnly,
  VERDICT_ADVICE,
  VERDICT_WORDS,
} from '../findings/words.js';
import type { Result, Study, WavelengthResult } from '../vocabulary.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** The correction card: what to multiply by, how sure that is, where it holds, what to do. */
export function card(study: Study, result: Result): Html {
  const relative = referenceOnly(study);
  const settled = result.wavelengths.filter(isSettled);
  const open = result.wavelengths.filter((one) => !isSettled(one));
  return html`<section class="card" id="answer" aria-labelledby="answer-title">
<h2 id="answer-title">Correction card</h2>
<p class="lead">For readings of <strong>${result.candidate}</strong>, compared with <strong>${result.reference}</strong>. ${DIRECTION}</p>
${result.suspects.map((one) => html`<p class="notice suspect"><strong>Look at this entry again.</strong> ${one.message} ${one.why}</p>`)}
${
  settled.length === 0
    ? html`<p class="verdict-line"><strong>This data cannot tell you a factor at any wavelength.</strong> What would settle it stands below.</p>`
    : table({
        caption: `Factors, with expanded uncertainty U for ${confidenceWords(result.confidence)} confidence`,
        columns: [
          { head: 'Wavelength' },
          { head: 'Multiply the candidate reading by', number: true },
          { head: 'U or interval', number: true, breaks: true },
          { head: 'Coverage factor k', number: true },
          { head: 'A corrected reading', number: true, breaks: true },
          { head: 'Holds from … to (candidate indication)', number: true },
          { head: 'Verdict' },
        ],
        rows: settled.flatMap((one) => settledRows(one, result.tolerance_percent)),
      })
}
${settled.length === 0 ? null : html`<p class="small">U is that of the factor. A reading corrected on another day, with the head put up again, is known less well: <em>A corrected reading</em> says to what, its own scatter and display step aside.</p>`}
${adviceList(settled)}
${factorWarnings(result).map((one) => html`<p class="notice"><strong>Before you use a factor.</strong> ${one.message}</p>`)}
${open.map(openBlock)}
${settled.length === 0 ? null : commonLine(result)}
${relative === null ? null : html`<p class="notice"><strong>Relative to this reference only.</strong> ${relative}</p>`}
<p class="small">Tolerance ± ${formatNumber(result.tolerance_percent)} % (${study.tolerance_stated ? 'stated in the study' : 'not stated; the default'}). ${BEYOND_WORDS} This is a comparison report, not a certificate, and not a classification of any laser: IEC 60825-1, local rules and a laser safety officer decide about that.</p>
</section>`;
}

/** One row for each level of power. */
function settledRows(
  one: WavelengthResult,
  tolerance_percent: number,
): readonly (readonly (Html | string)[])[] {
  return factorLines(one).map(({ factor, reach, U, k, holds }, i) => {
    const rounded = roundUncertain(factor, factor * U);
    const first = i === 0;
    return [
      `${formatNumber(one.wavelength_nm)} nm`,
      html`<strong class="factor">${rounded.value}</strong>`,
      html`<span class="together">${reach}</span> <span class="together">(± ${formatRelative(U)} %)</span>`,
      formatNumber(k, { digits: 3, keepZeros: true }),
      first ? correctedReading(one, tolerance_percent) : '',
      holds,
      first ? html`<span class="verdict ${one.verdict}">${VERDICT_WORDS[one.verdict]}</span>` : '',
    ];
  });
}

function correctedReading(one: WavelengthResult, tolerance_percent: number): Html | string {
  const relative = one.corrected_reading_relative_U;
  if (relative === null) return '—';
  const known = html`<span class="together">± ${formatRelative(relative)} %</span>`;
  return isBeyondTolerance(one, tolerance_percent)
    ? html`${known} <strong>beyond the tolerance</strong>`
    : known;
}

/** What each verdict on the card asks for, once. */
function adviceList(settled: readonly WavelengthResult[]): Html {
  const verdicts = [...new Set(settled.map((one) => one.verdict))];
  return html`<ul class="reasons">${verdicts.map((verdict) => html`<li><strong>${VERDICT_WORDS[verdict]}:</strong> ${VERDICT_ADVICE[verdict]}</li>`)}</ul>`;
}

function openBlock(one: WavelengthResult): Html {
  return html`<div class="open"><p><strong>${formatNumber(one.wavelength_nm)} nm: this data cannot tell you.</strong> ${one.why}</p>
<p><strong>What would:</strong> ${one.next_step}</p></div>`;
}

function commonLine(result: Result): Html {
  const common = result.common_factor;
  if (result.wavelengths.length < 2) return html``;
  const factor =
    common.supported && common.factor !== null
      ? ` ${formatNumber(common.factor)} (${formatInterval(common.low, common.high)}).`
      : '';
  return html`<p>One factor for all wavelengths? <strong>${common.supported ? 'Yes:' : 'No.'}</strong>${factor} ${common.why}</p>`;
}
