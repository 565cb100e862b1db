import { factorsFile } from '../factors/factorsFile.js';
import { factorsOf } from '../factors/factorsOf.js';
import { appendixFigures, reportFigures } from '../figures/reportFigures.js';
import { resultFile } from '../findings/resultFile.js';
import { plotlyBundle } from '../notebook/figureHtml.js';
import { versions } from '../notebook/versions.js';
import { appendixPage } from '../report/appendixPage.js';
import { cardPage } from '../report/cardPage.js';
import { reportPage } from '../report/reportPage.js';
import type { Result, Study } from '../vocabulary.js';
import type { OutputFiles } from './seal.js';

/** Every file that a comparison may leave. */
export const OUTPUT_FILES = [
  'result.json',
  'factors.json',
  'report.html',
  'card.html',
  'appendix.html',
  'compare.ipynb',
] as const;

/** The files that come straight from the result: all but the notebook. A new page is added here. */
export function outputFiles(study: Study, result: Result): OutputFiles {
  const factors = factorsOf(study, result);
  const page = {
    study,
    result,
    factors,
    figures: [...reportFigures(study, result), ...appendixFigures(study, result)],
    plotlyBundle: plotlyBundle(),
    versions: versions(),
  };
  return {
    'result.json': resultFile(result),
    'factors.json': factorsFile(factors),
    'report.html': reportPage(page),
    'card.html': cardPage(study, result),
    'appendix.html': appendixPage(page),
  };
}
