/** What a reviewer asks for: every table that the report leaves out, every reading, the other figures. */
import { budgetOrigins } from '../findings/budgetFinding.js';
import { reportId } from '../findings/reportId.js';
import { differences, drift } from '../findings/seriesFindings.js';
import {
  agreementByLevel,
  changes,
  infrared,
  means,
  opinions,
  power,
  reChecks,
  settings,
} from '../findings/spokenFindings.js';
import { meters, opinionsStated, readings, seriesList } from '../findings/studyFindings.js';
import { pageOf } from './document.js';
import { figuresAt } from './figureBlock.js';
import { type Html, html } from './html.js';
import type { ReportPageInput } from './reportPage.js';
import { findingTable } from './table.js';

/** More readings than this stay in runs.csv. */
const MOST_READINGS = 1000;

/**
 * The appendix as one HTML file.
 *
 * @returns the text of appendix.html; the same input gives the same bytes
 */
export function appendixPage(input: ReportPageInput): string {
  const { result, figures, plotlyBundle } = input;
  return pageOf({
    result,
    kind: 'Appendix',
    main: html`<header><p class="kicker">Appendix to comparison report ${reportId(result)}</p>
<h1>${result.title}</h1></header>
${measured(input)}
${each('Differences and drift', findingTable(differences(result), { sentences: true }), findingTable(drift(result)))}
${each(
  'Agreement',
  findingTable(means(result), { sentences: true }),
  tableIf(result.agreement.against_level.description === 'changes-with-level', () =>
    findingTable(agreementByLevel(result)),
  ),
)}
${each('Where the contributions come from', findingTable(budgetOrigins(result)))}
${spokenOf(input)}
${each('Further figures', figuresAt(figures, 'appendix'))}
<p class="end">End of the appendix to ${reportId(result)}.</p>`,
    drawing: { figures, places: ['appendix'], library: plotlyBundle },
  });
}

function measured({ study, result }: ReportPageInput): Html {
  const count = study.series.reduce((sum, series) => sum + series.runs.length, 0);
  return each(
    'What was measured',
    findingTable(meters(study), { sentences: true }),
    findingTable(seriesList(study, result)),
    tableIf(study.opinions.length > 0, () => findingTable(opinionsStated(study))),
    count > MOST_READINGS
      ? html`<p>The ${count} single readings stand in runs.csv.</p>`
      : findingTable(readings(study, result)),
  );
}

/** Sections that stand only where there is something to say. */
function spokenOf({ result }: ReportPageInput): Html {
  const charts = reChecks(result);
  return html`${[
    tableIf(power(result).rows.length > 0, () =>
      each('Power', findingTable(power(result), { sentences: true })),
    ),
    tableIf(result.opinions.length > 0, () =>
      each('A second opinion', findingTable(opinions(result), { sentences: true })),
    ),
    tableIf(result.then_and_now !== null, () =>
      each('Then and now', findingTable(changes(result), { sentences: true })),
    ),
    tableIf(result.re_checks !== null, () =>
      each(
        'Re-checks',
        findingTable(charts.charts),
        findingTable(charts.values),
        findingTable(
          { ...charts.charts, columns: [], title: 'In words', notes: [] },
          { sentences: true },
        ),
      ),
    ),
    tableIf(result.settings.length > 0, () =>
      each('Wavelength settings', findingTable(settings(result))),
    ),
    tableIf(result.infrared.length > 0, () =>
      each('Infrared beside the wanted light', findingTable(infrared(result))),
    ),
  ]}`;
}

function each(title: string, ...parts: readonly Html[]): Html {
  return html`<section><h2>${title}</h2>
${parts}</section>`;
}

const tableIf = (holds: boolean, table: () => Html): Html => (holds ? table() : html``);
