import type { Result, Study } from '../vocabulary.js';
import { agreementFigure } from './agreementFigure.js';
import { beforeAfterFigure } from './beforeAfterFigure.js';
import { budgetFigure } from './budgetFigure.js';
import { factorsFigure } from './factorsFigure.js';
import type { Figure } from './figure.js';
import { reChecksFigure } from './reChecksFigure.js';
import { runsFigure } from './runsFigure.js';

/** What fits on a printed page. */
const SERIES_A_PAGE = 4;

/** The figures of a report: runs in parts that fit on a page, one budget for each wavelength. */
export interface ReportFigureSet {
  readonly runs: readonly Figure[];
  readonly agreement: Figure;
  readonly factors: Figure;
  readonly budget: readonly Figure[];
  readonly beforeAfter: Figure;
  /** One chart a wavelength that has limits. */
  readonly reChecks: readonly Figure[];
}

/** All figures that the report page takes. */
export function reportFigures(study: Study, result: Result): ReportFigureSet {
  return {
    runs: chunks(
      study.series.map((one) => one.id),
      SERIES_A_PAGE,
    ).map((part) => runsFigure(study, result, part)),
    agreement: agreementFigure(study, result),
    factors: factorsFigure(study, result),
    budget: result.wavelengths
      .filter((one) => one.budget.length > 0)
      .map((one) => budgetFigure(result, [one.wavelength_nm])),
    beforeAfter: beforeAfterFigure(study, result),
    reChecks: (result.re_checks ?? [])
      .filter((one) => one.limits !== null)
      .map((one) => reChecksFigure(one, { confidence: result.confidence })),
  };
}

function chunks<T>(list: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(list.length / size) }, (_, i) =>
    list.slice(i * size, (i + 1) * size),
  );
}
