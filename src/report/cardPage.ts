/** The answer on one A6 sheet, to keep with the candidate. */

import { answer } from '../findings/answer.js';
import { counted } from '../findings/formatNumber.js';
import { moreHazardous } from '../findings/hazardFinding.js';
import { recheckBy } from '../findings/recordList.js';
import { reportId } from '../findings/reportId.js';
import { factorWarnings } from '../findings/warningRank.js';
import { howToRead, referenceOnly } from '../findings/words.js';
import { RESULT, STUDY } from '../record/recordShapes.js';
import { requireShape } from '../statistics/shapes.js';
import type { Result, Study } from '../vocabulary.js';
import { pageOf } from './document.js';
import { html } from './html.js';
import { CARD_STYLES } from './styles.js';
import { findingTable } from './table.js';

/**
 * The card as one HTML file that prints on A6.
 *
 * @returns the text of card.html; the same input gives the same bytes
 * @throws argument-wrong for what is no study or no result
 */
export function cardPage(study: Study, result: Result): string {
  requireShape(study, 'The study', STUDY);
  requireShape(result, 'A result', RESULT);
  const relative = referenceOnly(study);
  const unsafe = moreHazardous(result).length;
  const doubts = factorWarnings(result).length;
  return pageOf({
    result,
    kind: 'Correction card',
    styles: CARD_STYLES,
    main: html`<h1>${result.candidate}</h1>
<p>Multiply what it shows${howToRead(result, study)}, in the range it was compared in. Compared with ${result.reference} on <strong>${study.record.date ?? 'a day not stated'}</strong>; check again by <strong>${recheckBy(study)}</strong>.</p>
<div class="answer">${findingTable({ ...answer(result), notes: [], title: `Factors, ± U for tolerance ± ${result.tolerance_percent} %` }, { only: ['At', 'It shows', 'Multiply by', '± U', 'Verdict'] })}</div>
${relative === null ? null : html`<p>${relative}</p>`}
${doubts === 0 ? null : html`<p>${counted(doubts, 'warning bears', 'warnings bear')} on its use: see report.html.</p>`}
${result.suspects.length === 0 ? null : html`<p><strong>An entry of the data is in doubt:</strong> see report.html before use.</p>`}
<p>${unsafe === 0 ? '' : `${counted(unsafe, 'source is', 'sources are')} more hazardous than labelled: see report.html. `}No calibration certificate, no classification of a laser: never choose weaker eyewear because of it.</p>
<p class="note">${reportId(result)}</p>`,
  });
}
