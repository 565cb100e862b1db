/** The report: page one is the answer, then why to believe it, then the record. */
import type { ListedFigure } from '../figures/reportFigures.js';
import { answer } from '../findings/answer.js';
import { budgetMatrix } from '../findings/budgetFinding.js';
import { doubts, nextStep } from '../findings/doubts.js';
import { hazardFinding, moreHazardous, otherLabels } from '../findings/hazardFinding.js';
import { comparedWhat, recordList } from '../findings/recordList.js';
import { reportId } from '../findings/reportId.js';
import { resultPreface, resultSentences } from '../findings/resultSentence.js';
import { beforeAndAfter, leftOut, seriesFactors } from '../findings/seriesFindings.js';
import { otherWarnings } from '../findings/warningRank.js';
import { BEYOND_WORDS, commonWords, LASER_CAUTIONS } from '../findings/words.js';
import { FACTORS, RESULT, STUDY } from '../record/recordShapes.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import type { Factors, Result, Study } from '../vocabulary.js';
import { budgetTable } from './budgetTable.js';
import { pageOf } from './document.js';
import { figuresAt } from './figureBlock.js';
import { type Html, html, list, pairs } from './html.js';
import { findingTable } from './table.js';

export interface ReportPageInput {
  readonly study: Study;
  readonly result: Result;
  readonly factors: Factors;
  /** Figures with their places. */
  readonly figures: readonly ListedFigure[];
  /** Source text of the plotting library; set into the page once. */
  readonly plotlyBundle: string;
  /** Versions by name, for example of the package and of Node. */
  readonly versions: Readonly<Record<string, string>>;
}

const INPUT: Shape = {
  fields: {
    study: STUDY,
    result: RESULT,
    factors: FACTORS,
    plotlyBundle: 'text',
    versions: { fields: {} },
  },
};

/**
 * The report as one HTML file.
 *
 * @returns the text of report.html; the same input gives the same bytes
 */
export function reportPage(input: ReportPageInput): string {
  requireShape(input, 'The report', INPUT);
  const { study, result, figures } = input;
  return pageOf({
    result,
    kind: 'Comparison report',
    main: html`${[
      pageOne(study, result, figures),
      hazard(result, figures),
      doubtful(result),
      budget(result, figures),
      evidence(result, figures),
      theRecord(input),
    ]}`,
    drawing: {
      figures,
      places: ['answer', 'hazard', 'budget', 'left-out', 'evidence'],
      library: input.plotlyBundle,
    },
  });
}

/** What was compared, the card with the picture beside it, what is unsafe, doubts, the next step. */
function pageOne(study: Study, result: Result, figures: readonly ListedFigure[]): Html {
  const unsafe = moreHazardous(result);
  return html`<section id="answer" class="first">
<header>
<p class="kicker">Comparison report ${reportId(result)}, not a calibration certificate</p>
<h1>${result.title}</h1>
${pairs(comparedWhat(study))}
<noscript><p class="notice">Scripts are off, so the figures are not drawn. Every number stands in the tables.</p></noscript>
</header>
<div class="beside"><div class="card answer"><h2>The answer</h2>
${findingTable(answer(result, study))}
</div>${figuresAt(figures, 'answer')}</div>
<div class="caution"><h2>${unsafe.length === 0 ? 'Before you act on this with a laser' : 'More hazardous than labelled'}</h2>
${list(unsafe)}
<p>${otherLabels(result)} ${LASER_CAUTIONS.join(' ')}</p></div>
<h2>Reasons for doubt</h2>
${list(doubts(result, study)) ?? html`<p>None was found.</p>`}
<p class="notice"><strong>The next step worth most.</strong> ${nextStep(result)}</p>
</section>`;
}

function hazard(result: Result, figures: readonly ListedFigure[]): Html {
  const found = hazardFinding(result);
  // A label that the data contradict stands out by its weight too.
  const beside = (row: number, column: number) =>
    column === found.columns.length - 1 && result.hazard[row]?.label_understates === true
      ? { after: html``, style: 'alarm' }
      : null;
  return html`<section id="hazard"><h2>Hazard of the sources, against their labels</h2>
${figuresAt(figures, 'hazard')}
${findingTable(found, { beside })}
</section>`;
}

/** What page one does not say already. */
function doubtful(result: Result): Html {
  return html`<section id="doubt"><h2>Further warnings</h2>
${list(otherWarnings(result)) ?? html`<p>There are none beside those on the first page.</p>`}
<p><strong>One factor for all wavelengths?</strong> ${commonWords(result)}</p>
<p><strong>Beside what was measured.</strong> ${BEYOND_WORDS}</p>
</section>`;
}

function budget(result: Result, figures: readonly ListedFigure[]): Html {
  return html`<section id="budget"><h2>Where the uncertainty comes from</h2>
${figuresAt(figures, 'budget')}
${budgetTable(budgetMatrix(result))}
</section>`;
}

function evidence(result: Result, figures: readonly ListedFigure[]): Html {
  return html`<section id="evidence"><h2>Evidence</h2>
${findingTable(seriesFactors(result), { sentences: true })}
${findingTable(leftOut(result), { sentences: true })}
${figuresAt(figures, 'left-out')}
${findingTable(beforeAndAfter(result))}
${figuresAt(figures, 'evidence')}
<p class="note">Every reading, drift and differences by series, and the origin of each contribution stand in appendix.html; the reasoning step by step in compare.ipynb.</p>
</section>`;
}

function theRecord({ study, result, factors, versions }: ReportPageInput): Html {
  return html`<section id="record"><h2>The record</h2>
${pairs(recordList(study, result, versions))}
<h3>Results, as they may be quoted</h3>
<p>${resultPreface(result.confidence)}</p>
${list(resultSentences(result)) ?? html`<p>No factor can be quoted.</p>`}
<h3>What goes with every factor</h3>
${list(factors.cautions)}
<h3>How to run it again</h3>
<p>With the same version of the package and the folder of the study: <code>npm start -- FOLDER --out DIR</code>. The same input gives the same bytes in <code>result.json</code> and <code>factors.json</code>; the fingerprint tells whether the data are the same.</p>
<p class="note">Figures are drawn by plotly.js (MIT licence), which is part of this file. The page asks nothing of the network.</p>
<p class="end">End of comparison report ${reportId(result)}.</p>
</section>`;
}
